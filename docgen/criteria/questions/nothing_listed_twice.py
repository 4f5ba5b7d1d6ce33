"""Nothing is ordered that the code of another line already includes.

Asks: Whether a line asks for a part that comes with another line: a stop switch, a direction switch, swing-away
hardware, a part of the seat.
Why a payer asks: A part billed beside the code that includes it is denied.
What settles it: A code on each line, and for hardware the part it holds (supports).
Source: article A52504, what each code includes; the text of the codes.
"""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import (
    ITEMS,
    OWN_CODE,
    PARTS,
    Line,
    codes,
    controls,
    fill_in_codes,
    lines,
    named,
    no_codes,
    places,
    tells,
    without_code,
)
from docgen.criteria.sentences import counted, listed

HEADING = "order"
CLAIM = "No line bills for what another line includes"
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    if doubled := [*_doubled(case)]:
        (i, item), (j, holder) = doubled[0]
        return not_met(
            f"{holder.code} ({holder.name}) already includes what {named([(i, item)])} asks for"
            + (
                f", and {counted(len(doubled) - 1, 'line more asks', 'lines more ask')} for a part that is included."
                if len(doubled) > 1
                else "."
            ),
            *places(line for line, _ in doubled),
            *places([(j, holder)]),
            mend=f"Take {listed(dict.fromkeys(codes(line for line, _ in doubled)))} out, "
            "or write in name and purpose which other part it is.",
        )
    if bare := without_code(case):
        return cannot_tell(
            f"Whether another line includes {listed(item.name for _, item in bare)} cannot be told without its code.",
            *((*ITEMS, i) for i, _ in bare),
            mend=fill_in_codes(),
        )
    swung = [
        line for line in lines(case, hcpcs.of_kind("hardware")) if line[1].code == "E1028" and not line[1].supports
    ]
    if swung and any(_swings(item.code) for _, item in controls(case)):
        return cannot_tell(
            f"What {named(swung)} holds is not recorded, and the control includes its own swing-away hardware.",
            *places(swung),
            mend=fill_in({"supports": '<"interface", "headrest", "trunk" or "other">'}, " in [[configuration.items]]"),
        )
    return met(f"{counted(len(lines(case)), 'line was', 'lines were')} compared, and no part is in two of them.", ITEMS)


def _doubled(case: Case) -> Iterator[tuple[Line, Line]]:
    """Lines that ask for an included part, each with the line that includes it."""
    for i, item in lines(case):
        for j, holder in lines(case):
            code = hcpcs.code(holder.code)
            if (
                i != j
                and code
                and (item.code in code.contains or _part_of(item, code) or _hardware_of(item, holder.code))
            ):
                yield (i, item), (j, holder)
                break


def _part_of(item: Item, code: hcpcs.Code) -> bool:
    if item.code != OWN_CODE:
        return False
    return any(part in code.includes and (part in item.features or tells(item, words)) for part, words in PARTS.items())


def _hardware_of(item: Item, holder: str | None) -> bool:
    return item.code == "E1028" and item.supports == "interface" and _swings(holder)


def _swings(code: str | None) -> bool:
    known = hcpcs.code(code)
    return known is not None and "swing_away_mounting" in known.includes
