"""Where each part of the control stands is measured, with a mark for putting it back.

Asks: Whether each pad, switch or joystick has its place, its gap, its mark, and who measured it when.
Why a payer asks: The supplier builds from it, and a pad that cannot be put back makes the device useless.
What settles it: [[configuration.mounting]] with at, gap_mm, mark, by and on for each part.
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.case.mount import Mount
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.lacking import in_words, lacking
from docgen.criteria.mend import Mend, NewEntry, add_entry
from docgen.criteria.sentences import counted, listed
from docgen.fit.mounting import can_have_gap, sites_lacking

HEADING = "order"
CLAIM = "The place of each part is measured and marked"
SHOWN_IN = ("order: Mounting Record",)
QUIET = True
SETTINGS = {"keys": ["at", "gap_mm", "mark", "by", "on"]}
CHOICES = {"keys": tuple(Mount.model_fields)}


def answer(grounds: Grounds, keys: list[str]) -> Answer:
    mounts = grounds.case.configuration.mounting
    if not mounts:
        return cannot_tell(
            "No mounting measurement is recorded.",
            ("configuration", "mounting"),
            mend=Mend(
                "Add [[configuration.mounting]] for each part, with at, gap_mm, mark, by and on.",
                add=(NewEntry("configuration.mounting", ("at", "gap_mm", "mark", "by", "on")),),
            ),
        )
    if unplaced := sites_lacking(grounds.case, grounds.fit):
        return cannot_tell(
            f"No part is recorded for: {listed(site.replace('_', ' ') for site in unplaced)}.",
            ("configuration", "mounting"),
            mend=add_entry("configuration.mounting", "at", "gap_mm", "mark", "by", "on", site=unplaced[0]),
        )
    if bare := [
        (place, mount, missing)
        for place, mount, lacks in lacking(mounts, keys)
        if (missing := [key for key in lacks if _is_asked(key, mount)])
    ]:
        _, mount, missing = bare[0]
        more = f"; {len(bare) - 1} more likewise" if len(bare) > 1 else ""
        return cannot_tell(
            f"Not recorded of the {mount.part}: {in_words(Mount, missing)}{more}.",
            *(("configuration", "mounting", i) for i, _, _ in bare),
            mend=Mend(
                f"Measure and fill in {listed(missing)} in [[configuration.mounting]]{_where_it_has_none(missing)}.",
                fill=tuple(missing),
            ),
        )
    return met(f"{counted(len(mounts), 'part is', 'parts are')} measured and marked.", ("configuration", "mounting"))


def _is_asked(key: str, mount: Mount) -> bool:
    """Whether a measure is asked of a part: it has one, and nothing says why not."""
    return key not in {entry.of for entry in mount.not_applicable} and (key != "gap_mm" or can_have_gap(mount))


def _where_it_has_none(missing: list[str]) -> str:
    """How a part says that it has no gap or mark, after what is to be measured."""
    mays = [key for key in missing if key in ("gap_mm", "mark")]
    touching = "; one that touches the body at rest has touches = true" if "gap_mm" in mays else ""
    none = f'; a part that has none says why: not_applicable = {{ {mays[-1]} = "<why it has none>" }}' if mays else ""
    return f"{touching}{none}"
