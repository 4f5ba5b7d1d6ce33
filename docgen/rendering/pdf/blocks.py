"""Laid-out blocks: each knows its height, where it may be split between pages, and how to paint itself.

A block of text, a list item, a box or a table that is split keeps one structure element; only the marks
lie on two pages. Heights and rooms are points; `top` is the height of the upper edge on the page.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any, Self

from msgspec import Struct

from docgen.rendering.pdf.canvas import ASCENT, DESCENT, Row, TaggedCanvas
from docgen.rendering.pdf.lines import Line, line_width
from docgen.rendering.pdf.structure import Element
from docgen.rendering.style import TextStyle

_SECTION = 2  # level of the headings that a drawing and its text stay under
_FEWEST_LINES = 2  # of a text that is split: left on this page, and carried to the next


class Block:
    """A block; by default it is not split. `before` and `after` are space that neighbours share."""

    before: float = 0.0
    after: float = 0.0
    keep: bool = False  # stays on the page of the next block
    height: float = 0.0
    floats = False  # where it does not fit, what follows in its section may stand before it

    def split(self, room: float, force: bool = False) -> tuple[Any, Any]:
        """The part that fits into the room and the rest; either may be None.

        force  the room is a whole page: give up what is only good manners
        """
        return None, self

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        """Paint the block from its upper left corner."""
        raise NotImplementedError


class Heading(Struct):
    """What a heading's block tells the outline and the links."""

    text: str
    level: int
    anchor: str


@dataclass
class TextBlock(Block):
    """Lines of one element in one style, `width` points wide."""

    lines: Sequence[Line]
    style: TextStyle
    element: Element
    width: float
    gap_fill: float
    align: str = "left"
    keep: bool = False
    before: float = 0.0
    after: float = 0.0
    heading: Heading | None = None

    def __post_init__(self) -> None:
        self.height = len(self.lines) * self.style.leading

    def split(self, room: float, force: bool = False) -> tuple[Self | None, Self | None]:
        fewest = 1 if force else _FEWEST_LINES
        if self.heading and not force:
            return None, self
        n_lines = min(int((room + 0.01) / self.style.leading), len(self.lines) - fewest)
        return self.cut(n_lines) if n_lines >= fewest else (None, self)

    def cut(self, n_lines: int) -> tuple[Self, Self]:
        """The first lines, and the others."""
        return replace(self, lines=self.lines[:n_lines]), replace(self, lines=self.lines[n_lines:], heading=None)

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        if self.heading:
            canvas.heading(self.heading.text, self.heading.level, self.heading.anchor, top)
        if self.lines:
            canvas.text(self.rows(x, top), self.style.size, self.style.shade, self.gap_fill, self.element)

    def rows(self, x: float, top: float) -> list[Row]:
        """Each line with the left end of its baseline; the letters stand in the middle of the leading."""
        size, leading = self.style.size, self.style.leading
        y = top - (leading - (ASCENT + DESCENT) * size) / 2 - ASCENT * size
        share = {"left": 0.0, "center": 0.5, "right": 1.0}[self.align]
        return [
            (x + share * (self.width - line_width(line, size)) if share else x, y - at * leading, line)
            for at, line in enumerate(self.lines)
        ]


class PageBreak(Block):
    """What follows starts a new page."""


@dataclass
class Stack(Block):
    """Blocks one below the other."""

    blocks: Sequence[Block]
    before: float = 0.0
    after: float = 0.0
    keep: bool = False

    def __post_init__(self) -> None:
        self.gaps = [0.0, *(max(upper.after, lower.before) for upper, lower in pairwise(self.blocks))]
        self.gaps = self.gaps[: len(self.blocks)]
        self.height = sum(self.gaps) + sum(block.height for block in self.blocks)

    def split(self, room: float, force: bool = False) -> tuple[Self | None, Self | None]:
        for at, (gap, block) in enumerate(zip(self.gaps, self.blocks, strict=True)):
            if isinstance(block, PageBreak):
                return self._part(self.blocks[:at]), self._part(self.blocks[at + 1 :])
            if gap + block.height <= room + 0.01:
                room -= gap + block.height
                continue
            head, tail = block.split(room - gap, force)
            if head is not None:
                after = [tail] if tail else []
                return self._part([*self.blocks[:at], head]), self._part([*after, *self.blocks[at + 1 :]])
            cut = self._cut_before(at) or (at if force else 0)
            under_heading = all(getattr(above, "heading", None) for above in self.blocks[cut:at])
            if under_heading and (lifted := self._lifted(at, room)):
                return self._part([*self.blocks[:at], *lifted]), self._part(
                    [block, *self.blocks[at + 1 + len(lifted) :]]
                )
            return self._part(self.blocks[:cut]), self._part(self.blocks[cut:])
        return self, None

    def _lifted(self, at: int, room: float) -> Sequence[Block]:
        """What follows a block that floats, up to its next section or drawing, as far as it fits whole into the room
        left above it; what stays with its next block comes with that or not at all. Columns below a drawing that goes
        across them come as one."""
        lifted: list[Block] = []
        group: list[Block] = []
        if not at or not self.blocks[at].floats:
            return lifted
        above = self.blocks[at - 1]
        for block in self.blocks[at + 1 :]:
            room -= max(above.after, block.before) + block.height
            heading = getattr(block, "heading", None)
            if room < 0 or block.floats or isinstance(block, PageBreak) or (heading and heading.level <= _SECTION):
                break
            group.append(block)
            if not block.keep:
                lifted, group = lifted + group, []
            above = block
        return lifted

    def _cut_before(self, at: int) -> int:
        """The last place to cut, at or above this block, that parts no block from one it stays with."""
        while at and self.blocks[at - 1].keep:
            at -= 1
        return at

    def _part(self, blocks: Sequence[Block]) -> Self | None:
        return replace(self, blocks=blocks) if blocks else None

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        for gap, block in zip(self.gaps, self.blocks, strict=True):
            block.paint(canvas, x, top - gap)
            top -= gap + block.height


@dataclass
class TickBox(Block):
    """A drawn ballot box, as the label of a list item."""

    side: float
    checked: bool
    element: Element
    leading: float

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        side, bottom = self.side, top - (self.leading + self.side) / 2
        with canvas.marked(self.element):
            canvas.frame(x, bottom, side, side, 0.8)
            if self.checked:
                tick = ((0.2, 0.5), (0.42, 0.24), (0.82, 0.8))
                canvas.stroke([(x + right * side, bottom + up * side) for right, up in tick], 1.4)


@dataclass
class Item(Block):
    """A list item: its label, and its blocks `indent` points to the right; a part carried over has none.

    whole  it is not split: what to do stays with how
    """

    label: TextBlock | TickBox | None
    body: Stack
    indent: float
    after: float = 0.0
    keep: bool = False
    whole: bool = False

    def __post_init__(self) -> None:
        self.height = max(self.body.height, self.label.height if self.label else 0.0)

    def split(self, room: float, force: bool = False) -> tuple[Self | None, Self | None]:
        if self.whole and not force:
            return None, self
        head, rest = self.body.split(room, force)
        if head is None or rest is None:
            return None, self
        return replace(self, body=head), replace(self, body=rest, label=None)

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        if self.label:
            self.label.paint(canvas, x, top)
        self.body.paint(canvas, x + self.indent, top)
