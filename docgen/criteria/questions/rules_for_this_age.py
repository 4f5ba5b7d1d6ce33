"""The payer's rules that the request is checked against are those for somebody of the client's age.

Asks: Whether the client is as old, on the day of the request, as those whom the rules are for.
Why a payer asks: Under 21, Medicaid covers what corrects or improves a condition, whatever the state plan lists; from
    21 on, the state plan decides. A request by the wrong rules is answered by the wrong test.
What settles it: client.born_on and request.requested_on; payer under [request], or its later payers.
Source: 42 USC 1396d(a)(4)(B) and (r)(5): individuals under the age of 21 (passage read of (r)(5)).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.sentences import day
from docgen.criteria.steps import age_told_on, age_untold
from docgen.months import months_later

HEADING = "people"
CLAIM = "The rules are those for the client's age"
QUIET = True
SETTINGS = {"years": 0, "young": False}
_AT = (("client", "born_on"), ("request", "requested_on"))


def answer(grounds: Grounds, years: int, young: bool) -> Answer:
    case = grounds.case
    if untold := age_untold(case):
        return untold
    if not years:
        return met("These rules are for any age.", *_AT)
    born, on = recorded(case.client.born_on), recorded(age_told_on(case))
    is_young = on < months_later(born, years * _MONTHS)
    if is_young == young:
        return met(f"The rules are for the age that the client has on {day(on)}.", *_AT)
    called = case.client.called or "The client"
    if young:
        return not_met(
            f"{called} is {years} or older on {day(on)}, and these rules are for those under {years}.",
            *_AT,
            mend='Check by the rules for adults: "medicaid_adult" in place of "medicaid_under_21".',
        )
    return not_met(
        f"{called} is under {years} on {day(on)}, and these rules are for those of {years} or older.",
        *_AT,
        mend='Check by the rules for the young: "medicaid_under_21" in place of "medicaid_adult".',
    )


_MONTHS = 12
