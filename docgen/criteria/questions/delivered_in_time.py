"""The chair was delivered while its authorization held.

Asks: How many calendar months lie between the affirmation and delivery.
Why a payer asks: After its time an affirmation is void, and the chair is not paid.
What settles it: decided_on under [authorization]; dates.delivered_on.
Source: L33789; contractor page on prior authorization: 6 months, counted on the calendar.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.months import within_months
from docgen.criteria.ordered import CHAIR, base
from docgen.criteria.sentences import day
from docgen.criteria.steps import STEPS, not_delivered, undated
from docgen.criteria.window import Window
from docgen.months import months_later

HEADING = "order"
CLAIM = "Delivery fell within the authorization period"
SHOWN_IN = ("paper: the supplier's proof of delivery",)
WINDOW = Window(
    ("authorization", "decided_on"),
    (("dates", "delivered_on"),),
    "last day for delivery, after the decision of {start}",
    ahead=True,
)
SETTINGS = {"months": 6}


def answer(grounds: Grounds, months: int) -> Answer:
    case = grounds.case
    power_base = base(case)
    if power_base and not power_base.authorization:
        return does_not_apply(
            f"{power_base.id} is not on the list of bases that need prior authorization.", (*CHAIR, "base_code")
        )
    decided, delivered = case.authorization.decided_on, case.dates.delivered_on
    until = (
        f"the last day for the delivery is {day(months_later(decided, months))}"
        if decided
        else "no decision on authorization is recorded either"
    )
    if early := not_delivered(case, until):
        return early
    if missing := undated(case, "decision on authorization"):
        return missing
    at = (STEPS["decision on authorization"], STEPS["delivery"])
    decided, delivered = recorded(decided), recorded(delivered)
    reason = (
        f"Affirmed on {day(decided)}, delivered on {day(delivered)}; the last day for it was "
        f"{day(months_later(decided, months))}"
    )
    if not within_months(decided, delivered, months):
        return not_met(
            f"{reason}.", *at, mend="This cannot be put right later; a new authorization is needed before delivery."
        )
    return met(f"{reason}.", *at)
