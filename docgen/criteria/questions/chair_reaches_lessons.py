"""The chair gets to the first lesson, where the way out of the home was not measured.

Asks: Where a door, an entrance or a ramp on the way out of the home was not measured, and training begins somewhere
    else, how the chair comes there.
Why a payer asks: A chair is delivered to the home; a plan whose first lesson it cannot reach is none.
What settles it: to_lessons under [delivery]; or the way out measured and taken out of not_measured of the client.
Source: common practice, no source.
"""

from __future__ import annotations

import re

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "The chair reaches the first place of training"
SHOWN_IN = ("letter: Training and Follow-Up Plan",)
NOT_FOR = ("control_only",)
SETTINGS: dict[str, object] = {}

# which words tell of a way out, and of a place that is not the home: common use, no source
_WAY_OUT = re.compile(
    r"\b(?:entrance|(?:front|garden|back|street|house) door|door (?:of the|to the) \w+|ramp|steps?|stairs?|porch"
    r"|landing)\b",
    re.IGNORECASE,
)
_ELSEWHERE = re.compile(
    r"\b(?:clinic|school|hospital|center|facility|house of|office|work|archive|workshop|gym|park|yard)\b", re.IGNORECASE
)
_NEXT = re.compile(r",|;|\band then\b|\bthen\b")


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    way_out = [place for place in case.client.not_measured if _WAY_OUT.search(place)]
    first = _NEXT.split(case.training.place or "")[0].strip()
    if not way_out:
        return does_not_apply("Nothing on the way out of the home is told as not measured.", ("client", "not_measured"))
    if not _ELSEWHERE.search(first):
        return does_not_apply("Training does not begin away from home.", ("training", "place"))
    at = ("delivery", "to_lessons")
    if case.delivery.to_lessons is None:
        return cannot_tell(
            f"Training begins in {first}, and of the way out of the home these were not measured: {listed(way_out)}. "
            "How the chair comes to the first lesson is not recorded.",
            at,
            mend=fill_in({"delivery.to_lessons": "<who takes the chair there, and how>"}),
        )
    return met("Training begins away from home, and how the chair comes there is recorded.", at)
