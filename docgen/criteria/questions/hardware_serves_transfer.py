"""Swing-away hardware clears the way for a transfer or for care, not for a table.

Asks: What the hardware is mainly for.
Why a payer asks: Hardware that mainly brings someone close to a desk or another surface is not covered;
clearing a slide transfer is the given example of what is.
What settles it: serves of the hardware's line, with its purpose in words, which must name no surface beside it.
Source: article A52504; LCD L33792 (passage read).
"""

from __future__ import annotations

from docgen.case.items import Item
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import ITEMS, Line, lines, named, no_codes, places, tells
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "Swing-away hardware serves a transfer or care"
LINE_RANK = 60
LINE_CLAIM = "It serves a transfer or care"
_KINDS = {
    "transfer": "a transfer",
    "catheter": "care of a catheter",
    "care": "care",
    "surface": "reaching a surface",
    "other": "something else",
}
SETTINGS = {
    "surfaces": ["table", "desk", "counter", "workbench", "worktop", "bench", "sink", "basin", "surface"],
    "covered": ["transfer", "catheter", "care"],
}


def answer(grounds: Grounds, surfaces: list[str], covered: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    hardware = lines(case, hcpcs.of_kind("hardware"))
    if not hardware:
        return does_not_apply("No swing-away hardware is requested.", ITEMS)
    if of_surface := [(i, item) for i, item in hardware if item.serves == "surface"]:
        return not_met(
            f"{named(of_surface)} {'is' if len(of_surface) == 1 else 'are'} for this: "
            f"{listed(dict.fromkeys(map(_purpose, of_surface)))}.",
            *places(of_surface, "serves"),
            mend=(
                "Take the line out, pay for it another way, or write in serves <the transfer or care it mainly serves>."
            ),
        )
    if bare := [(i, item) for i, item in hardware if item.serves not in covered]:
        return cannot_tell(
            f"The transfer or care is not recorded for {named(bare)}.",
            *places(bare, "serves"),
            mend=fill_in(
                {"serves": '"transfer", "catheter" or "care"'},
                ' in [[configuration.items]]; a mount that swings away for none of these is "other", and is taken out '
                "or paid for another way",
            ),
        )
    if both := [(i, item) for i, item in hardware if _purpose_names(item, surfaces)]:
        return cannot_tell(
            f"The purpose of {named(both)} names a surface beside a transfer or care.",
            *places(both, "purpose"),
            mend="Write in purpose <the main one alone>.",
        )
    return met(
        f"{named(hardware)}: {listed(dict.fromkeys(map(_purpose, hardware)))}.",
        *places(hardware, "serves"),
    )


def _purpose(line: Line) -> str:
    """What a line is for, in the words of the case where it has some."""
    return (line[1].purpose or _KINDS[line[1].serves or "other"]).rstrip(".")


def _purpose_names(item: Item, words: list[str]) -> bool:
    return item.purpose is not None and tells(item.model_copy(update={"name": ""}), words)
