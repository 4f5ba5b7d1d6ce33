"""The base has a code that the coding contractor gave it.

Asks: Whether the base has a code of its own, verified on the list of the Medicare coding contractor (PDAC).
Why a payer asks: A base without a verified code is denied.
What settles it: base_code of the chair and base_looked_up_on under [order].
Source: L33789, miscellaneous part.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import CHAIR
from docgen.criteria.sentences import day

HEADING = "order"
CLAIM = "The base code was verified on the PDAC product list"
NOT_FOR = ("control_only",)
SETTINGS = {"refused": ["K0898", "K0899"]}


def answer(grounds: Grounds, refused: list[str]) -> Answer:
    case = grounds.case
    code, at = case.configuration.chair.base_code, ((*CHAIR, "base_code"), ("order", "base_looked_up_on"))
    if code is None:
        return cannot_tell(
            "The code of the base is not recorded.",
            *at,
            mend=fill_in({"configuration.chair.base_code": "<procedure code of the base>"}),
        )
    if code in refused:
        return not_met(
            f"{code} is for a base that the contractor has not coded.", at[0], mend="Request a base that has a code."
        )
    if case.order.base_looked_up_on is None:
        return cannot_tell(
            f"When {code} was verified on the PDAC product list is not recorded.",
            *at,
            mend=fill_in({"order.base_looked_up_on": "<date>"}),
        )
    return met(f"{code} was verified on {day(case.order.base_looked_up_on)}.", *at)
