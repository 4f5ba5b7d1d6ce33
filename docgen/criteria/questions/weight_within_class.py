"""The client's weight is inside the class of the base.

Asks: Whether the client's weight lies between the lightest and the heaviest of the class of the base.
Why a payer asks: A base too weak for its rider can break or fail to stop; one that is too strong is denied.
What settles it: client.weight_kg; base_code of the chair.
Source: L33789 criterion L: standard to 300 lb, heavy 285 to 450, very heavy 428 to 600, extra heavy from 570, pediatric
    to 125; 1 lb = 0.45359237 kg.
"""

from __future__ import annotations

from docgen.case.usual import slip
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.growth import HEAVIEST_LB
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import CHAIR, base, control_alone
from docgen.units import KG_PER_POUND, Side, weight

HEADING = "order"
CLAIM = "The client's weight fits the class of the base"
FITS_TOGETHER = True
LINE_RANK = 130
SETTINGS = {"groups": ["1", "2", "3", "4", "5"], "options": ["none", "single", "multiple"]}
CHOICES = {"groups": ("1", "2", "3", "4", "5"), "options": ("none", "single", "multiple")}


def answer(grounds: Grounds, groups: list[str], options: list[str]) -> Answer:
    case = grounds.case
    power_base, at = base(case), ((*CHAIR, "base_code"), ("client", "weight_kg"))
    if power_base is None and control_alone(case):
        return does_not_apply("A control alone is requested, and the base is not recorded.", ("request", "kind"))
    if power_base is None:
        return cannot_tell(
            "The base is not recorded, or not in the list of bases.",
            at[0],
            mend=fill_in({"configuration.chair.base_code": "<procedure code of the base>"}),
        )
    if str(power_base.group) not in groups or (power_base.options or "none") not in options:
        return does_not_apply(f"{power_base.id} is not a base of that kind.", at[0])
    if case.client.weight_kg is None and control_alone(case):
        return does_not_apply("A control alone is requested, and the base stays.", ("request", "kind"))
    if case.client.weight_kg is None:
        return cannot_tell("The client's weight is not recorded.", at[1], mend=fill_in({"client.weight_kg": "<kg>"}))
    # a weight written in kg to one place is the same pound when it is within 0.05 kg of it
    pounds, slack = case.client.weight_kg / KG_PER_POUND, 0.05 / KG_PER_POUND
    light = pounds < power_base.lightest_lb - slack
    heavy = power_base.heaviest_lb is not None and pounds > power_base.heaviest_lb + slack
    limits = (
        f"from {power_base.lightest_lb} lb"
        if power_base.heaviest_lb is None
        else f"{power_base.lightest_lb} to {power_base.heaviest_lb} lb"
    )
    side: Side = "up" if heavy else "down" if light else "near"
    reason = f"The client weighs {weight(case.client.weight_kg, side)}, and {power_base.id} is for {limits}"
    if heavy or light:
        lightest_kg = (power_base.lightest_lb or 10) * KG_PER_POUND
        heaviest_kg = (power_base.heaviest_lb or HEAVIEST_LB) * KG_PER_POUND
        named = slip(case.client.weight_kg, lightest_kg, heaviest_kg, "kg")
        return not_met(
            f"{reason}; perhaps the weight is {named}." if named else f"{reason}.",
            *at,
            mend="Request a base of the class that fits, or weigh again and record it.",
            danger=heavy,
        )
    return met(f"{reason}.", *at)
