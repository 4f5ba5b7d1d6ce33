"""The decision on prior authorization came within the days a payer allows itself.

Asks: How many business days, Monday to Friday, lie between the request and the decision. Public holidays are not left
    out.
Why a payer asks: A late answer is the payer's, and a reason to ask.
What settles it: requested_on and decided_on under [authorization].
Source: contractor pages on prior authorization from 2022 (passages read): 10 business days.
"""

from __future__ import annotations

from datetime import timedelta

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.sentences import counted, day
from docgen.criteria.steps import STEPS, undated

HEADING = "order"
CLAIM = "The payer decided in time"
SHOWN_IN = ("paper: the supplier's authorization",)
SETTINGS = {"working_days": 10}


def answer(grounds: Grounds, working_days: int) -> Answer:
    case = grounds.case
    if (
        not case.authorization.requested_on
        and not case.authorization.decided_on
        and not case.dates.delivered_on
        and case.request.requested_on
    ):
        return does_not_apply("No request for authorization is recorded yet.", STEPS["request for authorization"])
    if case.authorization.requested_on and not case.authorization.decided_on and not _is_over(case):
        return does_not_apply(
            f"Asked for on {day(case.authorization.requested_on)}; no decision is recorded yet.",
            STEPS["decision on authorization"],
        )
    if missing := undated(case, "request for authorization", "decision on authorization"):
        return missing
    asked, decided = recorded(case.authorization.requested_on), recorded(case.authorization.decided_on)
    at = (STEPS["request for authorization"], STEPS["decision on authorization"])
    if decided < asked:
        return not_met(
            f"The decision of {day(decided)} is before the request of {day(asked)}.",
            *at,
            mend="Correct authorization.requested_on or authorization.decided_on.",
        )
    count = sum((asked + timedelta(days=n)).weekday() < _SATURDAY for n in range(1, (decided - asked).days + 1))
    reason = (
        f"Requested on {day(asked)} and decided on {day(decided)}, "
        f"{counted(count, 'business day', 'business days')} later"
    )
    if count > working_days:
        return not_met(
            f"{reason}; {working_days} are allowed.",
            *at,
            mend="Ask the payer why it took longer, and record the answer.",
        )
    return met(f"{reason}.", *at)


def _is_over(case: Case) -> bool:
    """Whether a decision must have come: what it says is recorded, or the chair is delivered."""
    return bool(case.authorization.decision or case.authorization.tracking or case.dates.delivered_on)


_SATURDAY = 5
