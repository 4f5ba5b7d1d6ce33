"""Swing-away hardware has the code of the part it holds, by the day that counts.

Asks: Which part each line of hardware holds, and whether its code is the one of that day.
Why a payer asks: From April 1, 2025, hardware of drive controls, headrests and side supports has codes of its
own.
What settles it: supports of the hardware's line, and dates.delivered_on or request.requested_on.
Source: joint contractor notice of 2025-03-13; article A52504. Rentals begun earlier stay on E1028, which is not
modeled. For a head control both E1028 and E1032 are let pass here, because published texts differ.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from docgen.case.items import Item
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import ITEMS, controls, day_that_counts, lines, named, no_codes, places
from docgen.criteria.sentences import day, listed

HEADING = "order"
CLAIM = "Swing-away hardware is coded for the date of the request"
SETTINGS: dict[str, object] = {}

_OTHER = "E1028"
_TEXTS_DIFFER = " Of a control at the head the published texts differ, E1028 or E1032: "


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    hardware = lines(case, hcpcs.of_kind("hardware"))
    if not hardware:
        return does_not_apply("No swing-away hardware is requested.", ITEMS)
    counted = day_that_counts(case)
    if counted is None:
        return cannot_tell(
            "Neither the day of delivery nor the day of the request is recorded.",
            ("request", "requested_on"),
            mend=fill_in({"request.requested_on": "<date>"}),
        )
    on, what = counted
    head = any((code := hcpcs.code(item.code)) and code.head for _, item in controls(case))
    wrong = [(line, right) for line in hardware if (right := _right(line[1], on, head)) and line[1].code not in right]
    if wrong:
        line, right = wrong[0]
        support_words = f" holding the {line[1].supports}" if line[1].supports else ""
        return not_met(
            (
                f"{named([line])}{support_words} is requested as of {day(on)}, {what}; the code of that day is "
                f"{listed(right, 'or')}."
            ),
            *places([line]),
            mend=f"Ask for {listed(right, 'or')} in its place, or mend supports.",
        )
    if bare := [line for line in hardware if not _right(line[1], on, head)]:
        return cannot_tell(
            f"Which part {named(bare)} holds is not recorded.",
            *places(bare),
            mend=fill_in({"supports": '<"interface", "headrest", "trunk" or "other">'}, " in [[configuration.items]]"),
        )
    differ = _differ([item for _, item in hardware if item.supports == "interface"]) if head else ""
    if later := hcpcs.later_list(on):
        in_use = f"In use by the list of {hcpcs.list_year()}, for the part held: {named(hardware)}. {later}"
        return met(f"{in_use}{differ}", *places(hardware), limit="in_part")
    return met(f"In use on {day(on)}, {what}, for the part held: {named(hardware)}.{differ}", *places(hardware))


def _differ(interfaces: Sequence[Item]) -> str:
    """That published texts differ on hardware of a control at the head, and whether the payer has answered; empty
    where none is requested."""
    if not interfaces:
        return ""
    if any(item.payer_says is None for item in interfaces):
        return f"{_TEXTS_DIFFER}the payer's answer decides."
    asked = listed(dict.fromkeys(item.code for item in interfaces if item.code))
    return f"{_TEXTS_DIFFER}the payer's answer on {asked} is recorded."


def _right(item: Item, on: date, head: bool) -> tuple[str, ...]:
    """Codes that fit the part held on that day; none when the part is not recorded."""
    own = [code for code in hcpcs.codes().values() if code.kind == "hardware" and code.id != _OTHER]
    in_use = [code for code in own if code.in_use(on)]
    if not in_use:
        return (_OTHER,)
    support = item.supports
    if support is None:
        return ()
    if support == "interface" and head:
        return (_OTHER, *(code.id for code in in_use if code.holds == support))
    return tuple(code.id for code in in_use if code.holds == support) or (_OTHER,)
