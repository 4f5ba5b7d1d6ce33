"""Each part that works only with another stands beside it.

Asks: Whether a chin cup, a breath tube kit, a harness or a connection has on the same order the code it belongs
to.
Why a payer asks: A part without the thing it belongs to is not paid.
What settles it: The codes of both on the order.
Source: article A52504, what each code goes with.
"""

from __future__ import annotations

from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.ordered import (
    FILL_IN_KIND,
    ITEMS,
    code_of,
    fill_in_codes,
    lines,
    named,
    no_codes,
    places,
    without_code,
)
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "Each part goes with a control on the order"
FITS_TOGETHER = "open"  # the table of the order tells the pairs that are whole
LINE_RANK = 100
LINE_CLAIM = "What it belongs to is on this order"
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    # what a control or a controller needs is asked elsewhere
    parts = [
        (i, item)
        for i, item in lines(case)
        if (code := hcpcs.code(item.code)) and code.pairs_with and code.kind not in ("control", "controller")
    ]
    if not parts:
        return does_not_apply("No line is a part of another.", ITEMS)
    if case.request.kind in ("control_only", "replacement"):
        return does_not_apply(f"{named(parts)} may belong to what is already on the chair.", ("request", "kind"))
    ordered = {item.code for _, item in lines(case)}
    alone = [(line, one_of) for line in parts for one_of in code_of(line[1]).pairs_with if not ordered & set(one_of)]
    if not alone:
        return met(f"With what they belong to: {named(parts)}.", *places(parts))
    line, one_of = alone[0]
    wanted = listed(one_of, "or")
    if bare := without_code(case):
        return cannot_tell(
            f"{named([line])} belongs to {wanted}, "
            f"and the code is not recorded for {listed(item.name for _, item in bare)}.",
            *((*ITEMS, i) for i, _ in bare),
            mend=fill_in_codes(),
        )
    if case.request.kind is None:
        return cannot_tell(
            "The kind of request is not recorded.",
            ("request",),
            mend=FILL_IN_KIND,
        )
    return not_met(
        f"{named([line])} is ordered without {wanted}.",
        *places([line]),
        mend=f"Add {wanted} to [[configuration.items]], or take {line[1].code} out.",
    )
