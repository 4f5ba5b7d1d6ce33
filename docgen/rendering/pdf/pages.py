"""Blocks -> pages, and the head and foot each page carries."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.rendering.fonts import FACES
from docgen.rendering.labels import Labels
from docgen.rendering.page import Page
from docgen.rendering.paper import DATE_GAP, SHEETS, status_place
from docgen.rendering.pdf.abreast import Abreast
from docgen.rendering.pdf.blocks import Block, Heading, Item, PageBreak, Stack, TextBlock
from docgen.rendering.pdf.boxes import Callout, Scan
from docgen.rendering.pdf.canvas import ASCENT, TaggedCanvas
from docgen.rendering.pdf.lines import Line, Link, Run, broken, line_width, text_width
from docgen.rendering.pdf.structure import Element, There
from docgen.rendering.style import Shade, Style

_MOST_HEAD_LINES = 6  # a name may fill a page; whole it stands in the text


class Furniture:
    """The head (running head, date, status) and the foot (page x of y; the status where the head has no room)."""

    def __init__(self, page: Page, style: Style, labels: Labels) -> None:
        self.style, self.labels = style, labels
        self.sheet = SHEETS[page.paper]
        self.line = self.sheet[0] - 2 * style.margin_side
        size = style.furniture.size
        day = page.day(labels)
        self.date = broken([Run(day)], self.line, size)
        room = self.line - max((line_width(line, size) for line in self.date), default=0.0) - DATE_GAP
        self.head = broken([Run(page.running_head)], room, size)[:_MOST_HEAD_LINES]
        self.status = broken([Run(page.status, FACES[True, False])], self.line, size)
        place = status_place(page, style, labels, lambda text, bold: text_width(text, size, bold))
        self.beside, self.below = place == "head", place == "foot"

    def _numbered(self, number: int, n_pages: int) -> str:
        return f"{self.labels.page} {number} {self.labels.of} {n_pages}"

    @property
    def top(self) -> float:
        """Height of the upper edge of the text; a head of many lines pushes it down."""
        n_lines = max(len(self.head), len(self.date)) + (0 if self.beside or self.below else len(self.status))
        head = self.style.edge + n_lines * self.style.furniture.leading + self.style.head_gap
        return self.sheet[1] - max(self.style.margin_top, head)

    @property
    def room(self) -> float:
        """Height of the text in points."""
        return self.top - self.style.margin_bottom

    def paint(self, canvas: TaggedCanvas, number: int, n_pages: int) -> None:
        """Paint the head and foot of a page; its number counts from 1."""
        furniture = self.style.furniture
        left, right = self.style.margin_side, self.style.margin_side + self.line
        y = self.sheet[1] - self.style.edge - ASCENT * furniture.size
        with canvas.artifact("Header"):
            self._show(canvas, self.head, left, y, furniture.shade)
            self._show(canvas, self.date, right, y, furniture.shade, to_the_left=True)
            if self.beside:
                after = left + line_width(self.head[0], furniture.size) + DATE_GAP
                self._show(canvas, self.status, after, y, 0.0)
            elif not self.below:
                below = y - max(len(self.head), len(self.date)) * furniture.leading
                self._show(canvas, self.status, left, below, 0.0)
        with canvas.artifact("Footer"):
            lines = broken([Run(self._numbered(number, n_pages))], self.line, furniture.size)
            if self.below:
                self._show(canvas, self.status, left, self.style.edge, 0.0)
            self._show(canvas, lines, right, self.style.edge, furniture.shade, to_the_left=True)

    def lead_back(self, canvas: TaggedCanvas, words: str, holder: Element, beside: Sequence[There] = ()) -> None:
        """In the foot of a page, links to what leads to it from another document; nothing where none does.

        words   stand before the pages
        holder  element to which they belong
        beside  pages of a file beside this one that lead here; those of this file when empty
        """
        ways = [(there, "") for there in beside]
        ways = ways or [(There(number), f"#{anchor}") for number, anchor in canvas.led_from().items()]
        if not ways:
            return
        runs = [Run(f"{words} ")]
        for n, (there, target) in enumerate(ways):
            # the words before it name its document
            page = There(there.page).in_words(self.labels.page.lower(), self.labels.pages.lower())
            link = Link(target, f"{words} {page}", Element("Link"), there=there if there.file else None)
            runs += [*([Run(", ")] if n else []), Run(page, link=link)]
        furniture = self.style.furniture
        taken = line_width(self.status[0], furniture.size) + DATE_GAP if self.below else 0.0
        lines = broken(runs, self.line / 2 - taken / 2, furniture.size)[:1]
        rows = [(self.style.margin_side + taken, self.style.edge, line) for line in lines]
        canvas.text(rows, furniture.size, furniture.shade, self.style.gap_fill, holder.child("P"))

    def _show(
        self,
        canvas: TaggedCanvas,
        lines: Sequence[Line],
        x: float,
        y: float,
        shade: Shade,
        to_the_left: bool = False,
    ) -> None:
        size, leading = self.style.furniture.size, self.style.furniture.leading
        rows = [
            (x - line_width(line, size) if to_the_left else x, y - at * leading, line) for at, line in enumerate(lines)
        ]
        if rows:
            canvas.show(rows, size, shade)


def paginated(blocks: Sequence[Block], room: float) -> list[Stack]:
    """The blocks as pages at most `room` points high; at least one page.

    Raises ValueError for a block that no page can hold.
    """
    pages: list[Stack] = []
    rest = _without_break(Stack(blocks))
    while rest is not None:
        head, after = rest.split(room)
        if head is None:
            head, after = rest.split(room, force=True)
        if head is None:
            raise ValueError(f"a {type(rest.blocks[0]).__name__.lower()} is taller than a page")
        pages.append(head)
        rest = _without_break(after) if after else None
    return pages or [Stack([])]


def headings_on(block: Block) -> Iterator[Heading]:
    """The headings that stand in a block, in reading order."""
    match block:
        case TextBlock() if block.heading:
            yield block.heading
        case Abreast():
            for column in block.columns:
                yield from headings_on(column)
        case Stack():
            for inner in block.blocks:
                yield from headings_on(inner)
        case Item():
            yield from headings_on(block.body)
        case Callout():
            yield from headings_on(block.inside)
        case Scan():
            yield from block.headings


def opens_with_heading(block: Block) -> bool:
    """Whether a page begins with a heading, so that the section before it ended on the page before."""
    first = block
    while isinstance(first, Stack) and first.blocks:
        first = first.blocks[0]
    return isinstance(first, TextBlock) and first.heading is not None


def _without_break(stack: Stack) -> Stack | None:
    """The stack from its first block that is not a page break; None if there is none."""
    blocks = list(stack.blocks)
    while blocks and isinstance(blocks[0], PageBreak):
        del blocks[0]
    return Stack(blocks) if blocks else None
