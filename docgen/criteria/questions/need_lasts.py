"""The need lasts.

Asks: For how many months the chair is needed, and whether the condition passes.
Why a payer asks: A chair for a short need that passes is rented or denied.
What settles it: months_needed under [request], course of each [[diagnoses]].
Source: L33789, miscellaneous part: not for a reversible condition with a need of under 3 months.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import thing_asked_for
from docgen.criteria.sentences import counted

HEADING = "independence"
CLAIM = "The length of need is sufficient"
SHOWN_IN = ("letter: Equipment Requested",)
SETTINGS = {"months": 3}


def answer(grounds: Grounds, months: int) -> Answer:
    case = grounds.case
    thing = thing_asked_for(case)
    needed, at = case.request.months_needed, (("request", "months_needed"), ("diagnoses",))
    if needed is None:
        return cannot_tell(
            f"For how long the {thing} is needed is not recorded.",
            *at,
            mend=fill_in({"request.months_needed": "<number of months>"}),
        )
    reason = f"The {thing} is needed for {counted(needed, 'month', 'months')}"
    if needed >= months:
        return met(f"{reason}.", at[0])
    courses = {diagnosis.course for diagnosis in case.diagnoses}
    courses_at = [("diagnoses", index, "course") for index in range(len(case.diagnoses))]
    if "recovering" in courses:
        return not_met(
            f"{reason}, and the condition is recovering.",
            *at,
            *courses_at,
            mend="Rent a chair for that time, or record why the need is longer.",
            bare=f"{reason}, which is too short for this record.",
        )
    if not courses or None in courses:
        return cannot_tell(
            f"{reason}; whether the condition passes is not recorded.",
            *at,
            mend=fill_in({"course": ""}, " of each diagnosis"),
        )
    return met(
        f"{reason}; the condition does not pass.",
        *at,
        *courses_at,
        bare=f"{reason}, and the record shows that the need lasts.",
    )
