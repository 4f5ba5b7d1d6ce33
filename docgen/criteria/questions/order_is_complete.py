"""The order holds the six elements that an order must have.

Asks: Whether the order names the client, the items, the quantity, its date and the practitioner, and is signed.
Why a payer asks: An order that lacks an element is no order.
What settles it: has = the elements the order holds, under [order].
Source: 42 CFR 410.38(d)(1)(i); article A55426; Program Integrity Manual 5.2.2.
"""

from __future__ import annotations

from typing import get_args

from docgen.case.paper import Element
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "The order is complete"
SHOWN_IN = ("paper: the practitioner's order",)
SETTINGS = {"elements": list(get_args(Element))}
CHOICES = {"elements": get_args(Element)}


def answer(grounds: Grounds, elements: list[str]) -> Answer:
    has = grounds.case.order.has
    if not has:
        return cannot_tell(
            "What the order holds is not recorded.",
            ("order", "has"),
            mend=fill_in({"order.has": "<list of the elements the order holds>"}),
        )
    missing = [element for element in elements if element not in has]
    if missing:
        return not_met(
            f"The order lacks: {listed(missing)}.",
            ("order", "has"),
            mend=(
                "Have the practitioner complete the order before delivery, then fill in order.has <all that it holds>."
            ),
        )
    return met(f"The order holds {listed(elements)}.", ("order", "has"))
