"""Whoever sets the client up can see that the client sits as measured.

Asks: How pelvis, trunk and head sit and are held, belts, the tilt of the seat in use, and marks by which one sees it.
Why a payer asks: Each gap was measured in one posture. After a slide of a few millimeters the same gap is another.
What settles it: pelvis, trunk, head, belts and marks under [sitting]; seat_deg under [configuration].
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "How the client sits is recorded"
SETTINGS: dict[str, object] = {}

_KEYS = {
    "pelvis": "how the pelvis sits",
    "trunk": "how the trunk is held",
    "head": "what supports the head",
    "belts": "belts and straps",
    "marks": "marks that show it",
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    missing = {f"sitting.{key}": words for key, words in _KEYS.items() if getattr(case.sitting, key) is None}
    if case.configuration.seat_deg is None:
        missing["configuration.seat_deg"] = "the tilt of the seat for driving"
    if missing:
        return cannot_tell(
            f"Not recorded: {listed(missing.values())}.",
            *(tuple(key.split(".")) for key in missing),
            mend=fill_in({key: "" for key in missing}),
        )
    return met("How the client sits is recorded, with marks that show it.", ("sitting",))
