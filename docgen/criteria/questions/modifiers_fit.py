"""Claim modifiers fit the request.

Asks: Whether a line carries a modifier of replacement on a new chair and, where the payer wants one on each
line, whether each has it.
Why a payer asks: A line without its modifier is sent back; the modifier of replacement on a first chair is
denied.
What settles it: modifier of each line, and request.kind; for a modifier of replacement, why of the line.
Source: article A52504 (KX, GA, GZ, GY); contractor page on KC (passage read). Elsewhere the supplier adds them
with the claim.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import FILL_IN_KIND, ITEMS, codes, lines, named, no_codes, places
from docgen.criteria.sentences import counted, listed

HEADING = "order"
CLAIM = "Claim modifiers fit the request"
QUIET = True
SETTINGS = {"wanted": ["KX", "GA", "GZ", "GY"], "replacement": "KC", "on_each_line": False}


def answer(grounds: Grounds, wanted: list[str], replacement: str, on_each_line: bool) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    marked = [(i, item) for i, item in lines(case) if item.modifier]
    if not marked and not on_each_line:
        return does_not_apply("No line carries a claim modifier; the supplier adds them with the claim.", ITEMS)
    replaced = [(i, item) for i, item in marked if replacement in (item.modifier or "").split()]
    if replaced and case.request.kind == "new_chair":
        return not_met(
            f"On a new chair, {replacement}, the modifier of a replacement: {named(replaced)}.",
            *places(replaced, "modifier"),
            mend=f"Take {replacement} out.",
        )
    if replaced and case.request.kind is None:
        return cannot_tell(
            "The kind of request is not recorded.",
            ("request",),
            mend=FILL_IN_KIND,
        )
    if unsaid := [(i, item) for i, item in replaced if not item.why]:
        return cannot_tell(
            f"Why it is replaced is not recorded of {named(unsaid)}.",
            *places(unsaid, "why"),
            mend=fill_in(
                {"why": "<the change of condition, or the damage to control and controller>"},
                " in [[configuration.items]]",
            ),
        )
    if bare := [(i, item) for i, item in lines(case) if not set((item.modifier or "").split()) & set(wanted)]:
        return cannot_tell(
            f"Without {listed(wanted, 'or')}: {listed(codes(bare))}.",
            *places(bare, "modifier"),
            mend=fill_in(
                {"modifier": f"<{listed(wanted, 'or')}>"}, " in [[configuration.items]]; the supplier knows which"
            ),
        )
    return met(
        f"{counted(len(marked), 'line carries', 'lines carry')} a modifier that fits.", *places(marked, "modifier")
    )
