"""The encounter came before services started, and not too long before.

Asks: How many calendar months lie between the encounter and the start of services.
Why a payer asks: Services without a timely encounter are not paid.
What settles it: dates.encounter_on; service_on under [delivery], else dates.delivered_on.
Source: 42 CFR 440.70(f) (summary read): 6 months before the start of services.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.months import within_months
from docgen.criteria.sentences import day
from docgen.criteria.steps import STEPS, undated
from docgen.criteria.window import Window
from docgen.months import months_later

HEADING = "people"
CLAIM = "The encounter came in time before services started"
SHOWN_IN = ("paper: the practitioner's encounter note",)
WINDOW = Window(
    ("dates", "encounter_on"),
    (("delivery", "service_on"), ("dates", "delivered_on")),
    "last day for services to start, after the encounter of {start}",
    ahead=True,
)
SETTINGS = {"months": 6}


def answer(grounds: Grounds, months: int) -> Answer:
    case = grounds.case
    if missing := undated(case, "encounter"):
        return missing
    encounter, start = recorded(case.dates.encounter_on), case.delivery.service_on or case.dates.delivered_on
    at, last = (STEPS["encounter"], STEPS["start of services"], STEPS["delivery"]), months_later(encounter, months)
    if start is None:
        return does_not_apply(
            f"Services have not started; after the encounter of {day(encounter)} the last day for them is {day(last)}.",
            *at,
        )
    reason = (
        f"The encounter was on {day(encounter)}, services started on {day(start)}; the last day for it was {day(last)}"
    )
    if not within_months(encounter, start, months):
        return not_met(f"{reason}.", *at, mend="A new encounter before services start is needed.")
    return met(f"{reason}.", *at)
