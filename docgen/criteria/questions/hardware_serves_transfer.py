"""Swing-away hardware clears the way for a transfer or for care, not for a table.

Asks: What the hardware is mainly for.
Why a payer asks: Hardware that mainly brings someone close to a desk or another surface is not covered;
clearing a slide transfer is the given example of what is.
What settles it: purpose of the hardware's line.
Source: article A52504; LCD L33792 (passage read). Words for a surface in the purpose are searched for, so read
the purpose yourself.
"""

from __future__ import annotations

from docgen.case.items import Item
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import ITEMS, lines, named, no_codes, places, tells
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "Swing-away hardware serves a transfer or care"
LINE_RANK = 60
LINE_CLAIM = "It serves a transfer or care"
SETTINGS = {
    "surfaces": ["table", "desk", "counter", "workbench", "worktop", "bench", "sink", "basin", "surface"],
    "covered": ["transfer", "lift", "sling", "slide", "care", "catheter", "suction", "toilet", "bed", "dressing"],
}


def answer(grounds: Grounds, surfaces: list[str], covered: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    hardware = lines(case, hcpcs.of_kind("hardware"))
    if not hardware:
        return does_not_apply("No swing-away hardware is requested.", ITEMS)
    of_surface = [(i, item) for i, item in hardware if _purpose_names(item, surfaces)]
    for i, item in of_surface:
        if not _purpose_names(item, covered):
            return not_met(
                f"{named([(i, item)])} is for this: {(item.purpose or '').rstrip('.')}.",
                (*ITEMS, i, "purpose"),
                mend=(
                    "Take the line out, pay for it another way, or write in purpose <the transfer or care it "
                    "mainly serves>."
                ),
            )
    if of_surface:
        return cannot_tell(
            f"The purpose of {named(of_surface)} names both a surface and a transfer or care.",
            *places(of_surface, "purpose"),
            mend="Write in purpose <the main one alone>.",
        )
    if bare := [(i, item) for i, item in hardware if not _purpose_names(item, covered)]:
        return cannot_tell(
            f"The transfer or care is not recorded for {named(bare)}.",
            *places(bare, "purpose"),
            mend=fill_in({"purpose": "<the transfer or care it clears the way for>"}, " of the hardware's line"),
        )
    purposes = [(item.purpose or "").rstrip(".") for _, item in hardware]
    return met(f"{named(hardware)}: {listed(dict.fromkeys(purposes))}.", *places(hardware, "purpose"))


def _purpose_names(item: Item, words: list[str]) -> bool:
    return item.purpose is not None and tells(item.model_copy(update={"name": ""}), words)
