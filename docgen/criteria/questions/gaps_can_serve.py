"""No part stands so far away that it could not serve.

Asks: Whether the gap at rest of a pad, switch or joystick is wider than any part of a drive control responds over.
Why a payer asks: A part out of reach neither drives nor stops the chair, whatever the letter says of it.
What settles it: The gap measured again.
Source: common practice, no source: a proximity switch seldom responds beyond 40 mm, and no head, hand or foot is moved
    100 mm for every command.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import capital, listed
from docgen.fit.mounting import NO_GAP, can_have_gap
from docgen.grammar import with_verb
from docgen.units import built

HEADING = "record"
CLAIM = "Every part is where it can work"
SHOWN_IN = ("order: Mounting Record",)
DANGER = True
SETTINGS = {"most_mm": 100}


def answer(grounds: Grounds, most_mm: float) -> Answer:
    mounts = list(enumerate(grounds.case.configuration.mounting))
    if not mounts:
        return cannot_tell(
            "No part is recorded.", ("configuration", "mounting"), mend=add_entry("configuration.mounting", "gap_mm")
        )
    measured = [(index, mount.part, mount.gap_mm) for index, mount in mounts if mount.gap_mm is not None]
    with_gap = [(index, mount) for index, mount in mounts if can_have_gap(mount)]
    if not measured and not with_gap:
        return does_not_apply("Each part is touched or pressed: none has a gap.", ("configuration", "mounting"))
    if not measured:
        return cannot_tell(
            "No gap of a part is recorded.",
            *(("configuration", "mounting", index) for index, _ in with_gap),
            mend=fill_in({"gap_mm": "<mm at rest>"}, f" of each part that has one{NO_GAP}"),
        )
    if far := [(index, part, gap_mm) for index, part, gap_mm in measured if gap_mm > most_mm]:
        parts = listed(f"the {with_verb(part, 'is')} {built(gap_mm)} away at rest" for _, part, gap_mm in far)
        return not_met(
            f"{capital(parts)}; no such part serves over more than {built(most_mm)}.",
            *(("configuration", "mounting", index, "gap_mm") for index, _, _ in far),
            mend="Measure again, and mend the figure or the place.",
        )
    return met(
        f"No gap is wider than {built(most_mm)}.",
        *(("configuration", "mounting", index, "gap_mm") for index, _, _ in measured),
    )
