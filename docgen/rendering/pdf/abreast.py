"""Blocks in columns side by side, as long as one another where they end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Self

from docgen.rendering.pdf.blocks import Block, Stack
from docgen.rendering.pdf.canvas import TaggedCanvas

_STEP = 4.0  # by which the columns are made longer until all stands in them
_LEAST_ROOM = 90.0  # shorter columns are not begun at the foot of a page


@dataclass
class Abreast(Block):
    """Blocks that flow through `n` columns, each `width` points wide with `gutter` between two.

    columns  what stands in each, where that is settled; else they are made equally long
    """

    inside: Stack
    n: int
    width: float
    gutter: float
    columns: Sequence[Stack] = ()
    before: float = 0.0
    after: float = 0.0
    keep: bool = False

    def __post_init__(self) -> None:
        self.columns = self.columns or self._balanced()
        self.height = max((column.height for column in self.columns), default=0.0)
        self.before = self.inside.blocks[0].before
        self.after = max(column.blocks[-1].after for column in self.columns)

    def split(self, room: float, force: bool = False) -> tuple[Self | None, Self | None]:
        if room < _LEAST_ROOM and not force:
            return None, self
        columns, rest = self._filled(room, force)
        if not columns or rest is None:
            return None, self
        return replace(self, columns=columns), replace(self, inside=rest, columns=())

    def _balanced(self) -> list[Stack]:
        """The shortest columns that hold everything."""
        room = max([self.inside.height / self.n, *(block.height / self.n for block in self.inside.blocks)])
        while True:
            columns, rest = self._filled(room, force=False)
            if rest is None:
                return columns
            room += _STEP

    def _filled(self, room: float, force: bool) -> tuple[list[Stack], Stack | None]:
        """Columns at most `room` points high, and what is left over."""
        columns: list[Stack] = []
        rest: Stack | None = self.inside
        while rest is not None and len(columns) < self.n:
            head, after = rest.split(room, force)
            if head is None:
                return columns, rest
            columns.append(head)
            rest = after
        return columns, rest

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        for at, column in enumerate(self.columns):
            column.paint(canvas, x + at * (self.width + self.gutter), top)
