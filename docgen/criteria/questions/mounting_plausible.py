"""No figure of the mounting record, the head or the neck looks wrong.

Asks: Whether a size of the head lies outside what is known of adults, a movement of the neck beyond its usual range, a
    gap beyond what a sensor responds to, two sides far apart, parts at a foot where no foot or shoe can be, or a part
    whose figures put it elsewhere than its words: over the ear that it is behind, beside no heel, before no big toe.
Why a payer asks: The supplier builds from these figures; a slip of the pen puts a pad in the wrong place.
What settles it: Measure again; where the figure is right, say why in at, or leave it as it is. A doubt refuses nothing.
Source: head: ANSUR II, Gordon et al. 2014, NATICK/TR-15/007 (public data read), and Farkas et al. 1992, Cleft Palate
    Craniofac J 29:303 (abstract read); neck: AMA Guides, 5th edition, from memory; gaps and
    the room under a seat: common practice, no source; length of a foot: Drillis and Contini 1966, from memory.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import counted
from docgen.fit.mounting import doubts

HEADING = "order"
CLAIM = "The measurements of the mounting record are plausible"
SHOWN_IN = ("order: Mounting Record",)
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    mounts = grounds.case.configuration.mounting
    if not any(mount.gap_mm is not None or mount.height_mm is not None for mount in mounts):
        return cannot_tell(
            "No gap or height of a part is recorded.",
            ("configuration", "mounting"),
            mend=fill_in({"gap_mm": "", "height_mm": ""}, " of each part"),
        )
    if doubtful := doubts(grounds.case, grounds.fit):
        return not_met(
            " ".join(doubt.says for doubt in doubtful),
            *(path for doubt in doubtful for path in doubt.where),
            mend="Measure again, and mend the figure if it is wrong.",
        )
    return met(
        f"None of the figures of {counted(len(mounts), 'part', 'parts')} looks wrong.", ("configuration", "mounting")
    )
