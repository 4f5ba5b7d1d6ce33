"""The practitioner's encounter about mobility came before the order, and not too long before.

Asks: How many calendar months lie between the encounter and the order, and which came first.
Why a payer asks: An order without a timely encounter is not paid, whatever the need.
What settles it: dates.encounter_on and dates.ordered_on.
Source: 42 CFR 410.38(c)(5) and (d)(2); article A55426; L33789; none for accessories alone, Program Integrity Manual
    5.11.2. Months are counted on the calendar.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.months import within_months
from docgen.criteria.ordered import control_alone
from docgen.criteria.sentences import day, listed
from docgen.criteria.window import Window
from docgen.months import months_later

HEADING = "people"
CLAIM = "The encounter came before the order, in time"
SHOWN_IN = ("paper: the practitioner's encounter note and order",)
WINDOW = Window(
    ("dates", "encounter_on"), (("dates", "ordered_on"),), "last day for the order, after the encounter of {start}"
)
SETTINGS = {"months": 6}


def answer(grounds: Grounds, months: int) -> Answer:
    if control_alone(grounds.case):
        return does_not_apply(
            "Only a control for a chair already there is requested; no new encounter is needed for it.",
            ("request", "kind"),
        )
    encounter, order = grounds.case.dates.encounter_on, grounds.case.dates.ordered_on
    at = (("dates", "encounter_on"), ("dates", "ordered_on"))
    if encounter is None or order is None:
        missing = [words for words, day_on in (("encounter", encounter), ("order", order)) if day_on is None]
        return cannot_tell(
            f"Not recorded: the date of the {listed(missing)}.",
            *at,
            mend=fill_in({_KEYS[step]: "<date>" for step in missing}),
        )
    seen = f"The encounter was on {day(encounter)}, the order on {day(order)}"
    if order < encounter:
        return not_met(f"{seen}: the order came first.", *at, mend="A new order after the encounter is needed.")
    last = months_later(encounter, months)
    if not within_months(encounter, order, months):
        return not_met(
            f"{seen}; it had to follow by {day(last)}.",
            *at,
            mend="A new encounter before a new order is needed.",
        )
    return met(f"{seen}, which had to follow by {day(last)}.", *at)


_KEYS = {"encounter": "dates.encounter_on", "order": "dates.ordered_on"}
