"""The supplier's ATP came in once the encounter had begun.

Asks: Whether the ATP's assessment is dated on or after the encounter.
Why a payer asks: The choice of chair follows the encounter, not the other way around.
What settles it: dates.encounter_on and dates.supplier_assessed_on.
Source: article A52504.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.sentences import day
from docgen.criteria.steps import STEPS, undated

HEADING = "people"
CLAIM = "The ATP's assessment followed the encounter"
SHOWN_IN = ("paper: the record of the supplier's ATP",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if missing := undated(case, "encounter", "ATP's assessment"):
        return missing
    encounter, assessed = recorded(case.dates.encounter_on), recorded(case.dates.supplier_assessed_on)
    at = (STEPS["encounter"], STEPS["ATP's assessment"])
    reason = f"The encounter was on {day(encounter)}, the ATP's assessment on {day(assessed)}"
    if assessed < encounter:
        return not_met(f"{reason}: before it.", *at, mend="Have the ATP assess the client again, and date it.")
    return met(f"{reason}.", *at)
