"""No control for an attendant is requested beside the client's own.

Asks: Whether a line asks for an attendant control while the client drives too.
Why a payer asks: A second control is not covered; a helper can stop the chair without one.
What settles it: No E2331 beside the client's control; a control for a helper that is there already is one of
    [[configuration.standard_parts]].
Source: article A52504.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, does_not_apply, met, not_met
from docgen.criteria.ordered import ITEMS, controls, lines, named, no_codes, places

HEADING = "order"
CLAIM = "No second control for an attendant is requested"
FEATURE = "attendant_control"
_THERE = ("with_base", "moves_over")
QUIET = True
SETTINGS = {"attendant": "E2331"}


def answer(grounds: Grounds, attendant: str) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    asked, own = lines(case, (attendant,)), controls(case)
    wanted = [i for i, feature in enumerate(case.configuration.features) if feature.id == FEATURE]
    there = [
        ("configuration", "standard_parts", i)
        for i, part in enumerate(case.configuration.standard_parts)
        if part.part == FEATURE and part.comes in _THERE
    ]
    if there and not asked:
        return met("A control for a helper is there already, and none is requested.", *there, ITEMS)
    if wanted and not asked:
        return not_met(
            f"A feature asks for a helper's control, and no line of the order with {attendant} brings it.",
            *(("configuration", "features", i) for i in wanted),
            ITEMS,
            mend=f"Take the feature out, or request it in a line with {attendant}.",
        )
    if not asked:
        return met("No attendant control is requested.", ITEMS)
    if own or case.configuration.method:
        beside = named(own) if own else "the control that the client drives with"
        return not_met(
            f"Two controls: {named(asked)} beside {beside}.",
            *places(asked),
            *places(own),
            mend=f"Take {attendant} out, or pay for it in another way.",
        )
    return does_not_apply("The attendant control takes the place of one for the client.", *places(asked))
