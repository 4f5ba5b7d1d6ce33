"""The evaluation was written and accepted before the order.

Asks: Whether the therapist's report and the practitioner's acceptance of it are dated on or before the order, and
    whether what the report rests on, the last day of the trial, came before both. Two days that are recorded out of
    order decide it, whatever the third would be.
Why a payer asks: The order is to rest on the evaluation; a report that was never accepted is only extra information.
What settles it: dates.evaluated_on, dates.accepted_on and dates.ordered_on; the days of the trial.
Source: L33789 documentation part; contractor article of 2008 on acceptance (passage read); current A52498 from memory.
"""

from __future__ import annotations

from datetime import date
from itertools import pairwise

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day, listed

HEADING = "people"
CLAIM = "The practitioner concurred with the evaluation before the order"
SHOWN_IN = (
    "letter: Equipment Requested",
    "paper: the practitioner's order",
)
SETTINGS: dict[str, object] = {}


_STEPS = (("evaluated_on", "evaluation"), ("accepted_on", "concurrence"), ("ordered_on", "order"))


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    at = tuple(("dates", key) for key, _ in _STEPS)
    recorded = [(words, on) for key, words in _STEPS if (on := getattr(case.dates, key))]
    missing = {f"dates.{key}": words for key, words in _STEPS if getattr(case.dates, key) is None}
    early, last = _before_the_last_trial(case, recorded)
    if early or any(later < former for (_, former), (_, later) in pairwise(recorded)):
        steps = [*([("last day of the trial", last)] if early and last else []), *recorded]
        named = listed(f"{words} {day(on)}" for words, on in steps)
        lacks = f", whatever the day of the {listed(missing.values(), 'and')} was" if missing else ""
        out_of_order = not_met(
            f"Out of order: {named}{lacks}.",
            *at,
            *([("trial", "rows")] if early else []),
            mend="Get a concurrence, and then an order, dated after the evaluation with its trial, or correct the day "
            "that was written wrong.",
        )
        return replace(out_of_order, names=(named,))
    if missing:
        return cannot_tell(
            f"Not recorded: the date of the {listed(missing.values())}.",
            *at,
            mend=fill_in(dict.fromkeys(missing, "<date>")),
        )
    return met(f"In order: {listed(f'{words} {day(on)}' for words, on in recorded)}.", *at)


def _before_the_last_trial(case: Case, recorded: list[tuple[str, date]]) -> tuple[list[str], date | None]:
    """The steps after the evaluation that are older than the last day of the trial that it rests on, and that day. A
    report older than that day is told by the order of all days of the record."""
    last = max((row.date for row in case.tried), default=None)
    if last is None:
        return [], None
    return [words for words, on in recorded if words != "evaluation" and on < last], last
