"""The trial with the requested control is not much older than the evaluation it stands for.

Asks: How long before the evaluation the last attempt with the requested control was.
Why a payer asks: A body changes; how someone stopped years ago does not show how they stop now.
What settles it: Attempts near the day of the evaluation, or the right dates.
Source: twelve months are common practice, no source; US national coverage determination 280.3, question 4, asks for
    safe operation of this device by this person now.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, fill_in
from docgen.criteria.sentences import day
from docgen.months import months_later

HEADING = "record"
CLAIM = "The trial is not much older than the evaluation"
SHOWN_IN = ("letter: Equipment Trial and Results",)
DANGER = True
SETTINGS = {"most_months": 12}


def answer(grounds: Grounds, most_months: int) -> Answer:
    case, asked = grounds.case, grounds.case.configuration.method
    days = sorted(row.date for row in case.tried if row.method == asked)
    on = case.dates.evaluated_on
    if not days:
        return cannot_tell(
            "No attempt with the requested control is recorded.",
            ("configuration", "method"),
            mend=Mend("Fill in configuration.method, and add its rows.", fill=("configuration.method",)),
        )
    if on is None:
        return cannot_tell(
            "The date of the evaluation is not recorded.",
            ("dates",),
            mend=fill_in({"dates.evaluated_on": "<date>"}),
        )
    both_days = f"The last attempt with the requested control was on {day(days[-1])}, the evaluation is of {day(on)}"
    if months_later(days[-1], most_months) < on:
        return not_met(
            f"{both_days}: more than {most_months} months later.",
            ("trial", "rows"),
            ("dates", "evaluated_on"),
            mend="Try the control again and add the rows, or mend the date that is wrong.",
        )
    return met(f"{both_days}.", ("trial", "rows"), ("dates", "evaluated_on"))
