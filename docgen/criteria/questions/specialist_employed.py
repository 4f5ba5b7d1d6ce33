"""The supplier employs its ATP.

Asks: Whether the supplier's ATP is its employee or works by contract.
Why a payer asks: A supplier of such chairs must have one of its own; further ones may be contracted.
What settles it: employment = "employee" or "contract" of the person with role = "supplier".
Source: contractor answers on ATPs, reviewed 2023-12-06 (passage read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry, fill_in

HEADING = "people"
CLAIM = "The supplier employs an ATP"
SHOWN_IN = ("paper: the record of the supplier's ATP",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    specialists = [(i, p) for i, p in enumerate(grounds.case.people) if p.role == "supplier"]
    if own := [(i, p) for i, p in specialists if p.employment == "employee"]:
        return met(f"{own[0][1].name or 'The ATP'} is employed by the supplier.", ("people", own[0][0], "employment"))
    if not specialists or any(p.employment is None for _, p in specialists):
        return cannot_tell(
            "How the supplier's ATP is employed is not recorded.",
            *((("people", i) for i, _ in specialists) if specialists else [("people",)]),
            mend=fill_in({"employment": '<"employee" or "contract">'}, " of the ATP")
            if specialists
            else add_entry("people", "employment", role="supplier"),
        )
    return not_met(
        "The supplier's ATP works by contract.",
        *(("people", i, "employment") for i, _ in specialists),
        mend="Ask the supplier which ATP it employs, and add that person.",
    )
