"""The base can be fitted with the expandable controller that is requested.

Asks: Whether the code of the base is one that is built to be upgraded.
Why a payer asks: An expandable controller on a base that cannot take it is denied.
What settles it: configuration.chair.base_code.
Source: article A52504, list of bases for E2377.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import CHAIR, ITEMS, base, control_alone, lines, no_codes, places

HEADING = "order"
CLAIM = "The base can be fitted with the expandable controller"
SHOWN_IN = ("order: Compatibility and Included Components",)
FITS_TOGETHER = True
QUIET = True
SETTINGS = {"controller": "E2377"}


def answer(grounds: Grounds, controller: str) -> Answer:
    case = grounds.case
    if control_alone(case) and controller in (case.configuration.chair.electronics_now or ""):
        return does_not_apply(
            f"{controller} is on the chair that stays.", ("request", "kind"), (*CHAIR, "electronics_now")
        )
    if nothing := no_codes(case):
        return nothing
    at, wanted = (*CHAIR, "base_code"), lines(case, (controller,))
    if not wanted:
        return does_not_apply("No expandable controller is requested.", ITEMS)
    if control_alone(case) and not case.configuration.chair.base_code:
        return does_not_apply(
            "The control goes on a chair that is already there, and its base is not part of this request.",
            ("request", "kind"),
        )
    power_base = base(case)
    if power_base is None:
        code = case.configuration.chair.base_code
        reason = f"{code} is not in the list of bases." if code else "The code of the base is not recorded."
        return cannot_tell(
            reason, at, mend=fill_in({"base_code": "<procedure code of the base>"}, " under [configuration.chair]")
        )
    if not power_base.upgradable:
        return not_met(
            f"{power_base.id} is not among the bases that can be fitted with {controller}.",
            at,
            *places(wanted),
            mend=f"Request a base that can be fitted with {controller}, or take {controller} out.",
        )
    return met(f"{power_base.id} can be fitted with {controller}.", at)
