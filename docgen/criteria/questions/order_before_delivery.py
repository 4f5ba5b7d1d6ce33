"""The order was written and reached the supplier before delivery.

Asks: Whether the order's date and its receipt by the supplier are on or before the day of delivery.
Why a payer asks: An order that comes after delivery cannot be put right later, and the accessories fall with it.
What settles it: dates.ordered_on, received_on under [order], dates.delivered_on.
Source: 42 CFR 410.38(d)(1)(ii); L33789; article A52504; L33312, general part.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.ordered import thing_asked_for
from docgen.criteria.sentences import day
from docgen.criteria.steps import STEPS, not_delivered, undated

HEADING = "order"
CLAIM = "The order came before delivery"
SHOWN_IN = ("paper: the practitioner's order",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if late := _one_day_late(case):
        return late
    if missing := undated(case, "order", "receipt of the order"):
        return missing
    written, received = recorded(case.dates.ordered_on), recorded(case.order.received_on)
    at = (STEPS["order"], STEPS["receipt of the order"], STEPS["delivery"])
    if received < written:
        return not_met(
            f"The order of {day(written)} is recorded as received on {day(received)}, before it was written.",
            *at,
            mend="Correct order.received_on or dates.ordered_on.",
        )
    if early := not_delivered(case, f"the order of {day(written)} reached the supplier on {day(received)}"):
        return early
    delivered = recorded(case.dates.delivered_on)
    reason = (
        f"The order of {day(written)} reached the supplier on {day(received)}, and the {thing_asked_for(case)} was "
        f"delivered on {day(delivered)}"
    )
    if received > delivered:
        return not_met(
            f"{reason}: before the order was there.",
            *at,
            mend="This cannot be put right later; ask the payer what it takes instead.",
        )
    return met(f"{reason}.", *at)


def _one_day_late(case: Case) -> Answer | None:
    """Of an order or its receipt, where one of the two has no day and the other is after delivery: not met, for the day
    that lacks cannot change that; else None."""
    days = {"order": case.dates.ordered_on, "receipt of the order": case.order.received_on}
    recorded_days = {step: on for step, on in days.items() if on}
    delivered = case.dates.delivered_on
    if delivered is None or len(recorded_days) != 1:
        return None
    ((step, on),) = recorded_days.items()
    if on <= delivered:
        return None
    return not_met(
        f"The {step} is of {day(on)}, after delivery on {day(delivered)}.",
        *(STEPS[name] for name in (*days, "delivery")),
        mend="This cannot be put right later; ask the payer what it takes instead.",
    )
