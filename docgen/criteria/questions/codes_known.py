"""Each code is one that can be looked up here.

Asks: Whether every code on the order is in the program's list, which holds drive controls, their electronics,
hardware, powered seating and bases.
Why a payer asks: Nothing here vouches for a code that was not looked up.
What settles it: A person looks the code up and writes what the payer said in payer_says.
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import ITEMS, base_is_requested, lines, named, no_codes, places
from docgen.criteria.sentences import counted

HEADING = "order"
CLAIM = "Each code was verified"
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    unknown = [
        (i, item)
        for i, item in lines(case)
        if hcpcs.code(item.code) is None and hcpcs.base(item.code) is None and not item.payer_says
    ]
    if unknown:
        return cannot_tell(
            f"Outside the program's list, and not judged: {named(unknown)}.",
            *places(unknown),
            mend=fill_in(
                {"payer_says": "<what the payer answered, and when>"},
                " in [[configuration.items]]",
                lead="Look the code up, and fill in",
            ),
        )
    n_codes = len(lines(case)) + base_is_requested(case)
    return met(f"{counted(n_codes, 'code is', 'codes are')} in the list or confirmed by the payer.", ITEMS)
