"""What was asked of somebody, and the request does not wait for, is answered.

Asks: Whether each question that does not hold the request has its answer, and the day on which it came.
Why a payer asks: A payer does not. What was promised, and what a school or a supplier was asked for, is easily lost.
What settles it: answer and answered_on of each entry of [[awaited]] with holds = false.
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, does_not_apply
from docgen.criteria.open_questions import answered, not_answered

HEADING = "record"
CLAIM = "What was asked beside the request is answered"
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    beside = [(i, entry) for i, entry in enumerate(grounds.case.awaited) if not entry.holds]
    if not beside:
        return does_not_apply("Nothing is recorded that was asked and the request does not wait for.", ("awaited",))
    if still_open := [(i, entry) for i, entry in beside if entry.is_open]:
        return not_answered(still_open, holds=False)
    return answered(beside)
