"""The evaluation was written and accepted before the order.

Asks: Whether the therapist's report and the practitioner's acceptance of it are dated on or before the order.
Why a payer asks: The order is to rest on the evaluation; a report that was never accepted is only extra information.
What settles it: dates.evaluated_on, dates.accepted_on and dates.ordered_on.
Source: L33789 documentation part; contractor article of 2008 on acceptance (passage read); current A52498 from memory.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day, listed

HEADING = "people"
CLAIM = "The practitioner concurred with the evaluation before the order"
SHOWN_IN = (
    "letter: Equipment Requested",
    "paper: the practitioner's order",
)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    dates = grounds.case.dates
    steps = (("evaluated_on", "evaluation"), ("accepted_on", "concurrence"), ("ordered_on", "order"))
    at = tuple(("dates", key) for key, _ in steps)
    missing = [words for key, words in steps if getattr(dates, key) is None]
    if missing:
        return cannot_tell(
            f"Not recorded: the date of the {listed(missing)}.",
            *at,
            mend=fill_in({f"dates.{key}": "<date>" for key, words in steps if words in missing}),
        )
    days = listed(f"{words} {day(getattr(dates, key))}" for key, words in steps)
    in_order = recorded(dates.evaluated_on) <= recorded(dates.accepted_on) <= recorded(dates.ordered_on)
    return (
        met(f"In order: {days}.", *at)
        if in_order
        else not_met(
            f"Out of order: {days}.", *at, mend="The concurrence must follow the evaluation, and the order both."
        )
    )
