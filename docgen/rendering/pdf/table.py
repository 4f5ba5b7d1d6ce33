"""A table: ruled without vertical lines, its header row repeated on every page it reaches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Self

from docgen.rendering.columns import SIDE_PADDING
from docgen.rendering.pdf.blocks import Block, TextBlock
from docgen.rendering.pdf.canvas import TaggedCanvas
from docgen.rendering.style import Style

_CAPTION_GAP = 3.0
_FEWEST_ROWS = 2  # of a table that is split: left on this page, and carried to the next
_LONG_ROW = 0.4  # of a page; only a taller row may be split between pages
_FEWEST_LINES = 2  # of a row that is split, in its longest cell
_WHOLE_ROWS, _WHOLE_SHARE = 5, 0.25  # up to so many rows and so much of a page, a table is not split


@dataclass
class TableRow:
    """Cells side by side, each a text as wide as its column inside the padding. `fill`: the grey under them; `least`:
    height in points that it has at least."""

    cells: Sequence[TextBlock]
    padding: float
    fill: float | None = None
    least: float = 0.0

    def __post_init__(self) -> None:
        self.n_lines = max((len(cell.lines) for cell in self.cells), default=0)
        self.leading = self.cells[0].style.leading if self.cells else 0.0
        self.height = max(max(self.n_lines, 1) * self.leading + 2 * self.padding, self.least)

    def split(self, room: float) -> tuple[Self, Self] | None:
        """The row cut so that its first part fits the room; None if too few lines would stand on a page."""
        n_lines = min(int((room - 2 * self.padding + 0.01) / self.leading), self.n_lines - _FEWEST_LINES)
        if n_lines < _FEWEST_LINES:
            return None
        heads, rests = zip(*(cell.cut(n_lines) for cell in self.cells), strict=True)
        return replace(self, cells=heads), replace(self, cells=rests)


@dataclass
class Table(Block):
    """Caption, header rows, body rows; `again` says that this is not the table's first part.

    page_height  room of a whole page in points
    """

    caption: TextBlock | None
    header: Sequence[TableRow]
    body: Sequence[TableRow]
    widths: Sequence[float]
    style: Style
    page_height: float
    again: bool = False
    more: bool = False
    before: float = 0.0
    after: float = 0.0
    keep: bool = False

    def __post_init__(self) -> None:
        self.top_height = self.caption.height + _CAPTION_GAP if self.caption else 0.0
        self.header_height = sum(row.height for row in self.header)
        self.height = self.top_height + self.header_height + sum(row.height for row in self.body)

    def split(self, room: float, force: bool = False) -> tuple[Self | None, Self | None]:
        whole = len(self.header) + len(self.body) <= _WHOLE_ROWS and self.height <= _WHOLE_SHARE * self.page_height
        if whole and not force and not self.again:
            return None, self
        left = room - self.top_height - self.header_height + 0.01
        n_fit = 0
        while n_fit < len(self.body) and self.body[n_fit].height <= left:
            left -= self.body[n_fit].height
            n_fit += 1
        if n_fit == len(self.body):  # the header alone is too tall
            return None, self
        if parts := self._row_cut(n_fit, left):
            head, rest = parts
            return self._first([*self.body[:n_fit], head]), self._second([rest, *self.body[n_fit + 1 :]])
        fewest = 1 if force else min(_FEWEST_ROWS, len(self.body) // 2)
        n_rows = min(n_fit, len(self.body) - fewest)
        if n_rows < max(fewest, 1):
            return None, self
        return self._first(self.body[:n_rows]), self._second(self.body[n_rows:])

    def _row_cut(self, at: int, room: float) -> tuple[TableRow, TableRow] | None:
        """The row that does not fit, cut in two if it is long."""
        return self.body[at].split(room) if self.body[at].height > _LONG_ROW * self.page_height else None

    def _first(self, body: Sequence[TableRow]) -> Self:
        return replace(self, body=body, more=True)

    def _second(self, body: Sequence[TableRow]) -> Self:
        # a header that fills most of a page is not worth repeating
        header = self.header if self.header_height < self.page_height / 2 else ()
        return replace(self, caption=None, header=header, body=body, again=True)

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        if self.caption:
            self.caption.paint(canvas, x, top)
        top -= self.top_height
        self._grounds(canvas, x, top - self.header_height)
        self._rules(canvas, x, top)
        y = top
        for row in self.header:
            self._row(canvas, row, x, y, repeated=self.again)
            y -= row.height
        for row in self.body:
            self._row(canvas, row, x, y, repeated=False)
            y -= row.height

    def _grounds(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        """The light grounds of body rows that stand out, under the rules."""
        for row in self.body:
            top -= row.height
            if row.fill is not None:
                with canvas.artifact():
                    canvas.ground(x, top, sum(self.widths), row.height, row.fill)

    def _rules(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        """Heavy above and below, lighter under the header, light and grey between the rows."""
        heavy, light, grey = self.style.rule_heavy, self.style.rule_light, self.style.rule_shade
        right = x + sum(self.widths)
        with canvas.artifact():
            canvas.rule(x, top, right, top, heavy)
            y = top
            rows = [*self.header, *self.body]
            for at, row in enumerate(rows, start=1):
                y -= row.height
                if at == len(rows):
                    canvas.rule(x, y, right, y, light if self.more else heavy)
                elif at == len(self.header):
                    canvas.rule(x, y, right, y, (heavy + light) / 2)
                else:
                    canvas.rule(x, y, right, y, light, grey)

    def _row(self, canvas: TaggedCanvas, row: TableRow, x: float, top: float, repeated: bool) -> None:
        pad = self.style.cell_padding + SIDE_PADDING
        for cell, width in zip(row.cells, self.widths, strict=True):
            if not cell.lines:
                pass
            elif repeated:
                with canvas.artifact("Repeated"):
                    canvas.show(cell.rows(x + pad, top - row.padding), cell.style.size, cell.style.shade)
            else:
                cell.paint(canvas, x + pad, top - row.padding)
            x += width
