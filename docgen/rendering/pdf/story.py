"""Tree of nodes -> blocks: a method per kind of node lays it out and makes its structure element."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import zip_longest

from msgspec import Struct
from msgspec.structs import replace

from docgen.rendering.columns import SIDE_PADDING, column_widths
from docgen.rendering.flow import leads_in, runs
from docgen.rendering.labels import Labels
from docgen.rendering.letterhead import Letterhead
from docgen.rendering.numbering import anchors, numbered
from docgen.rendering.pdf.abreast import Abreast
from docgen.rendering.pdf.blocks import Block, Heading, Item, PageBreak, Stack, TextBlock, TickBox
from docgen.rendering.pdf.boxes import (
    CALLOUT_PADDING,
    Callout,
    Figure,
    Masthead,
    Panels,
    Rule,
    Signature,
    figure_scale,
    masthead_indent,
    signature_line,
)
from docgen.rendering.pdf.lines import text_width
from docgen.rendering.pdf.structure import Element, There
from docgen.rendering.pdf.table import Table, TableRow
from docgen.rendering.pdf.words import Ways, Words
from docgen.rendering.scenes import scene_named
from docgen.rendering.style import Style, TextStyle
from docgen.rendering.tree import Node
from docgen.scene import Scene, rows_of

_WHOLE_CALLOUT = 0.35  # share of a page up to which a box is not split
_TALL_FIGURE = 0.5  # share of a page that a drawing fills at most, where its style lets it be drawn smaller
_LABEL_GAP = 5.0  # between the label of an item and its text
_SPACE = 4.0  # above a table, figure or box, and more than a paragraph's below


class Place(Struct, frozen=True):
    """Where a block stands: the element that holds it, its width in points, the style of its paragraphs,
    how many lists hold it, whether it stays with the next block, whether a list or box holds it."""

    parent: Element
    width: float
    text: TextStyle | None = None
    depth: int = 0
    keep: bool = False
    nested: bool = False


class Story:
    """Lays out blocks; remembers only the numbers and anchors of the document."""

    def __init__(
        self,
        document: Node,
        scenes: Mapping[str, Scene],
        style: Style,
        labels: Labels,
        page_height: float,
        elsewhere: Mapping[str, There],
    ) -> None:
        self.scenes, self.style, self.labels, self.page_height = scenes, style, labels, page_height
        self.numbers = numbered(document, labels=labels)
        self.anchors = anchors(document)
        self.words = Words(
            Ways(frozenset(self.anchors.values()), elsewhere, labels.page.lower(), labels.pages.lower()), labels.not_set
        )
        self.makers: dict[str, Callable[[Node, Place], Block]] = {
            "heading": self._heading, "paragraph": self._paragraph, "list": self._list, "table": self._table,
            "callout": self._callout, "figure": self._figure, "signature": self._signature,
            "page_break": self._page_break, "rule": self._rule,
        }  # fmt: skip

    def document(self, document: Node, letterhead: Letterhead | None, root: Element, width: float) -> list[Block]:
        """The whole document, under its letterhead if there is one."""
        head: list[Block] = [self._masthead(letterhead, root, width)] if letterhead and letterhead.name else []
        for run in runs(document.children, self.scenes, self.style, width):
            blocks = self.blocks(run.nodes, Place(root, run.width))
            head += (
                blocks if run.n_columns == 1 else [Abreast(Stack(blocks), run.n_columns, run.width, self.style.gutter)]
            )
        return head

    def _masthead(self, letterhead: Letterhead, root: Element, width: float) -> Masthead:
        holder, logo = root.child("Div"), letterhead.logo
        picture = holder.child("Figure", alt=logo.alt) if logo else None
        room = width - masthead_indent(logo)
        name = self._label(
            letterhead.name, replace(self.style.clinic, shade=letterhead.accent), holder.child("P"), room
        )
        words = [
            name,
            *(
                [self._label(letterhead.contact, self.style.contact, holder.child("P"), room)]
                if letterhead.contact
                else []
            ),
        ]
        return Masthead(
            logo, picture, Stack(words), width, self.style.rule_heavy, letterhead.accent, after=self.style.body.leading
        )

    def blocks(self, nodes: Sequence[Node], place: Place) -> list[Block]:
        """The nodes laid out one after the other; each kind has its method."""
        laid = []
        for node, following in zip_longest(nodes, nodes[1:]):
            if node.kind not in self.makers:
                raise ValueError(f"a {node.kind} node cannot stand among the blocks of a PDF")
            laid.append(self.makers[node.kind](node, replace(place, keep=leads_in(node, following))))
        return laid

    def _text(
        self, nodes: Sequence[Node], style: TextStyle, element: Element, width: float, align: str = "left"
    ) -> TextBlock:
        lines = self.words.lines(nodes, width, style)
        return TextBlock(
            lines, style, element, width, self.style.gap_fill, align, style.keep, style.before, style.after
        )

    def _label(self, words: str, style: TextStyle, element: Element, width: float) -> TextBlock:
        return self._text([Node("text", text=words)], style, element, width)

    def _heading(self, node: Node, place: Place) -> TextBlock:
        style = self.style.headings[min(node.level, len(self.style.headings)) - 1]
        block = self._text(node.children, style, place.parent.child(f"H{node.level}"), place.width)
        block.heading = Heading(node.plain(), node.level, self.anchors[id(node)])
        return block

    def _paragraph(self, node: Node, place: Place) -> TextBlock:
        style = place.text or self.style.body
        if place.depth and _is_action(node):
            style = self.style.action or style
        block = self._text(node.children, style, place.parent.child("P"), place.width)
        block.keep = place.keep or style.keep
        return block

    def _list(self, node: Node, place: Place) -> Stack:
        style = self.style.item
        numbering = "Decimal" if node.ordered else "None" if _ticks(node) else "Disc"
        holder = place.parent.child("L", attributes={"O": "List", "ListNumbering": numbering})
        marks = [f"{at}." if node.ordered else "\u2022" for at, _ in enumerate(node.children, start=node.start)]
        widest = max((text_width(mark, style.size) for mark in marks), default=0.0)
        indent = max(self.style.indent + (_SPACE if _ticks(node) else 0.0), widest + _LABEL_GAP)
        items = [
            self._item(item, mark, indent, replace(place, parent=holder), is_step=node.ordered)
            for item, mark in zip(node.children, marks, strict=True)
        ]
        after = style.after if place.depth else self.style.body.after
        return Stack(items, after=after)

    def _item(self, node: Node, mark: str, indent: float, place: Place, *, is_step: bool) -> Item:
        """A step is not parted where the page has columns: its last act at the head of the next one would be missed."""
        style, holder = self.style.item, place.parent.child("LI")
        name, body = holder.child("Lbl"), holder.child("LBody")
        label: TextBlock | TickBox
        action = self.style.action if node.children and _is_action(node.children[0]) else None
        if node.checked is None:
            label = self._label(mark, action or style, name, indent)
        else:
            name.actual = "\u2611" if node.checked else "\u2610"
            label = TickBox(0.8 * style.size, node.checked, name, style.leading)
        inner = Place(body, place.width - indent, style, place.depth + 1, nested=True)
        inside = Stack(self.blocks(node.children, inner))
        return Item(
            label, inside, indent, after=style.after, whole=action is not None or (is_step and self.style.columns > 1)
        )

    def _table(self, node: Node, place: Place) -> Block:
        style, pad = self.style.cell, self.style.cell_padding + SIDE_PADDING
        holder = place.parent.child("Table")
        caption = self._caption(node, [Node("text", text=node.caption)], holder, place.width)

        def measure(text: str, bold: bool) -> float:
            return text_width(text, style.size, bold)

        widths = column_widths(node, place.width, measure, pad, self.words.plain, self.style.closest)
        rows = [(row.header, self._row(row, holder, widths, node.aligns)) for row in node.children]
        header = [row for is_header, row in rows if is_header]
        body = [row for is_header, row in rows if not is_header]
        after = self.style.body.after + _SPACE
        return Table(caption, header, body, widths, self.style, self.page_height, before=_SPACE, after=after)

    def _row(self, node: Node, table: Element, widths: Sequence[float], aligns: Sequence[str]) -> TableRow:
        holder, side = table.child("TR"), self.style.cell_padding + SIDE_PADDING
        style = replace(self.style.cell, bold=True) if node.header else self.style.cell
        cells = []
        for cell, width, align in zip(node.children, widths, aligns, strict=True):
            element = holder.child("TD")
            if node.header:
                element.tag, element.attributes = "TH", {"O": "Table", "Scope": "Column"}
            cells.append(self._text(cell.children, style, element, width - 2 * side, align))
        least = 0.0 if node.header else self.style.least_row
        return TableRow(cells, self.style.cell_padding, self.style.row_fill.get(node.role), least)

    def _callout(self, node: Node, place: Place) -> Callout:
        bar = self.style.callout_bar[node.tone]
        holder = place.parent.child("Sect", title=getattr(self.labels, node.tone))
        inner = Place(holder, place.width - bar - 2 * CALLOUT_PADDING[0], nested=True)
        inside = Stack(self.blocks(node.children, inner))
        block = Callout(inside, place.width, bar, self.style, whole=False)
        block.whole = block.height <= _WHOLE_CALLOUT * self.page_height
        block.before = block.after = self.style.body.after + _SPACE
        return block

    def _figure(self, node: Node, place: Place) -> Figure | Panels:
        """A drawing and its caption side by side in one Div: inside the Figure, the words of Alt would
        stand for the caption too and nobody would hear it."""
        scene = scene_named(node.name, self.scenes)
        group = place.parent.child("Div")
        room = self.page_height - (2 * CALLOUT_PADDING[1] if place.nested else 0.0)
        if scene.panels:
            return self._panels(scene, node, group, place.width)
        element = group.child("Figure", alt=scene.alt)
        caption = self._caption(node, node.children, group, place.width)
        fitting, least = figure_scale(scene, place.width, room, caption), self.style.least_figure
        scale = min(fitting, max(least, figure_scale(scene, place.width, room * _TALL_FIGURE, caption)))
        after = self.style.body.after + _SPACE
        return Figure(scene, scale, element, caption, min(scale, least), before=_SPACE, after=after)

    def _panels(self, scene: Scene, node: Node, group: Element, width: float) -> Panels:
        """The panels in rows as wide as the text, their letters as large as it."""
        rows = rows_of(scene.panels, width, self.style.panel_scale)
        elements = [[group.child("Figure", alt=placed.panel.alt) for placed in row] for row in rows]
        caption = self._caption(node, node.children, group, width)
        after = self.style.body.after + _SPACE
        return Panels(rows, elements, caption, self.page_height, before=_SPACE, after=after)

    def _caption(self, node: Node, words: list[Node], holder: Element, width: float) -> TextBlock | None:
        if id(node) not in self.numbers:
            return None
        number = Node("text", text=f"{self.numbers[id(node)]}. ")
        return self._text([number, *words], self.style.caption, holder.child("Caption"), width)

    def _signature(self, node: Node, place: Place) -> Signature:
        holder, style = place.parent.child("Div"), self.style.cell
        line, name_width, date_width = signature_line(place.width)
        name = self._text(node.children, style, holder.child("P"), name_width)
        date = self._label(self.labels.date, style, holder.child("P"), date_width)
        return Signature(name, date, line, self.style.rule_heavy, after=self.style.body.after + _SPACE)

    def _page_break(self, node: Node, place: Place) -> PageBreak:
        if place.nested:
            raise ValueError("a page break cannot stand in a list or a call-out")
        return PageBreak()

    def _rule(self, node: Node, place: Place) -> Rule:
        space = self.style.body.after + _SPACE
        return Rule(place.width, self.style, before=space, after=space)


def _is_action(node: Node) -> bool:
    """Whether a block is a paragraph that is bold as a whole, so that in a list it is what to do."""
    return node.kind == "paragraph" and all(child.kind == "strong" for child in node.children)


def _ticks(node: Node) -> bool:
    return any(item.checked is not None for item in node.children)
