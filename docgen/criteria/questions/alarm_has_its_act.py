"""A pressure at which there is alarm says what is done then.

Asks: Where dysreflexia is recorded and a systolic pressure is named as the alarm of this person, what whoever reads it
    off the cuff does at it; and whether help is not called only at a higher one, with nothing between the two.
Why a payer asks: A payer does not. A number on the wall without an act is read and waited out.
What settles it: says of alarm_pressure under [conditions.autonomic_dysreflexia], from whoever set the number.
Source: the alarm as a rise above the person's own pressure: conditions file, C1-04; that a number has its act is common
    practice, no source.
"""

from __future__ import annotations

from docgen.criteria.conditions import undiagnosed
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.fit.condition import answer_to, of_case

HEADING = "safety"
CLAIM = "An alarm has its act"
DANGER = "untold"
QUIET = True
SETTINGS: dict[str, object] = {}
_CONDITION, _QUESTION = "autonomic_dysreflexia", "alarm_pressure"


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.diagnoses and not case.conditions:
        return undiagnosed("whether a pressure is an alarm")
    given = answer_to(case, _CONDITION, _QUESTION) if _CONDITION in of_case(case) else None
    if given is None or given.number is None:
        return does_not_apply("No pressure is recorded as an alarm.", ("conditions",))
    if not given.says:
        return cannot_tell(
            f"Above {given.number:g} mmHg is an alarm on the emergency page, and what is done then is not recorded.",
            ("conditions",),
            mend="Ask whoever set the number what is done at it, and write that in says of alarm_pressure.",
        )
    return met(f"What is done above {given.number:g} mmHg is recorded.", ("conditions",))
