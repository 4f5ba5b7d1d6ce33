"""Tiredness, stiffness and pain within a session: the largest rise in any block of a method."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.evidence.blocks import Block, blocks
from docgen.evidence.fact import Fact

ORDER = 40
QUESTION = "Does it tire the client or raise tone?"
_SCALES = {"fatigue": "tiredness, 0 to 10", "tone": "stiffness, 0 to 4", "pain": "pain, 0 to 10"}


def facts(case: Case) -> Iterator[Fact]:
    """fatigue_rise, tone_rise and pain_rise of each method: the largest rise from before to after a block."""
    names = {method.id: method.name for method in case.trial.methods}
    every = blocks(case.records)
    for method, name in names.items():
        for scale, label in _SCALES.items():
            rises = [rise for block in every if block.method == method and (rise := _rise(block, scale)) is not None]
            if rises:
                largest, rows = max(rises, key=lambda rise: rise[0])
                yield Fact(f"{scale}_rise.{method}", "tiring", f"largest rise of {label}, {name}", "score", largest,
                           len(rises), rows=rows, formula="after - before, largest of the blocks that record both")


def _rise(block: Block, scale: str) -> tuple[float, tuple[int, ...]] | None:
    before, after = _value(block, f"{scale}_before"), _value(block, f"{scale}_after")
    if before is None or after is None:
        return None
    return getattr(after, f"{scale}_after") - getattr(before, f"{scale}_before"), (before.line, after.line)


def _value(block: Block, column: str) -> Row | None:
    """The row that records the scale: the first for before, the last for after."""
    rows = [row for row in block.rows if getattr(row, column) is not None]
    return (rows[0] if column.endswith("before") else rows[-1]) if rows else None
