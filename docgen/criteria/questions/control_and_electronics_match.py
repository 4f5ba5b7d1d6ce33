"""The special control is ordered with the electronics it needs.

Asks: Whether an item with a special control's code comes with the expandable controller and its harness, once
each.
Why a payer asks: A control without its electronics cannot work, and two of them are not paid.
What settles it: E2377 and E2313, one line each, beside the control's code on a new chair.
Source: article A52504, definitions and codes; electronics clarification of one contractor (passages read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import Mend
from docgen.criteria.ordered import FILL_IN_KIND, ITEMS, codes, lines, no_codes, without_code
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "The control and the electronics are compatible"
SHOWN_IN = ("order: Compatibility and Included Components",)
FITS_TOGETHER = "open"  # the table of the order tells the pairs that are whole
SETTINGS = {
    "controls": ["E2312", "E2321", "E2322", "E2325", "E2327", "E2328", "E2329", "E2330", "E2373"],
    "controller": "E2377",
    "harness": "E2313",
}


def answer(grounds: Grounds, controls: list[str], controller: str, harness: str) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    special = codes(lines(case, controls))
    if not special:
        return does_not_apply("No item has the code of a special control.", ITEMS)
    if case.request.kind is None:
        return cannot_tell(
            "The kind of request is not recorded.",
            ("request",),
            mend=FILL_IN_KIND,
        )
    both = (controller, harness)
    ordered = [item.code for _, item in lines(case, both) for _ in range(item.quantity or 1)]
    if twice := [code for code in both if ordered.count(code) > 1]:
        return not_met(f"Ordered more than once: {listed(twice)}.", ITEMS, mend="Keep one line with quantity 1.")
    missing = [code for code in both if code not in ordered]
    if missing and case.request.kind != "new_chair":
        return does_not_apply(
            f"On a chair that is already there the electronics of {listed(special)} are not part of this request.",
            ITEMS,
        )
    if missing and (bare := without_code(case)):
        return cannot_tell(
            f"No line has {listed(missing)}, which {listed(special)} cannot do without, "
            f"and the code is not recorded for {listed(item.name for _, item in bare)}.",
            *((*ITEMS, i) for i, _ in bare),
            mend=Mend(
                f"Add {listed(missing)}, or fill in code <procedure code> in [[configuration.items]] where that line "
                "is it; no_code = true where a line has none.",
                fill=("code",),
            ),
        )
    if missing:
        return not_met(
            f"On a new chair, {listed(special)} without {listed(missing)}.",
            ITEMS,
            mend=f"Add {listed(missing)} to [[configuration.items]]; whether the chair brings it, the supplier says.",
        )
    return met(
        f"{listed(special)} with {listed(both)}, by their codes; that the products chosen work together, the supplier "
        "shows.",
        ITEMS,
    )
