"""Tree of nodes -> DOCX: a method per kind of node writes the body, the package holds the rest."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cached_property
from itertools import count, zip_longest

from msgspec import Struct
from msgspec.structs import replace

from docgen.arial import arial_width
from docgen.rendering.columns import column_widths
from docgen.rendering.docx import xml
from docgen.rendering.docx.package import Package
from docgen.rendering.docx.sections import Part
from docgen.rendering.docx.styles import BULLETS, LONGER_IN_WORD, N_LEVELS, beside_text
from docgen.rendering.docx.words import Words
from docgen.rendering.flow import SIGNING_ROOM, leads_in, runs
from docgen.rendering.labels import ENGLISH, Labels
from docgen.rendering.numbering import numbered
from docgen.rendering.page import Page
from docgen.rendering.scenes import scene_named
from docgen.rendering.style import REGULAR, Style
from docgen.rendering.tree import Node
from docgen.scene import Scene, down_to_letters, rows_of

FIXED_SIZE = True
SENDS = 3

# up to these a box or a table moves to the next page whole, beyond them it may be split
_SHORT_CALLOUT = 700  # characters
_SHORT_TABLE = 5  # rows, the head included
_SHORT_ROW = 500  # characters in one cell
_TO_SPARE = 0.5  # points left in a cell beside its text
_LONGER_IN_SHEET = 1.01  # the same in a cell of a sheet of columns, where a line more may be a page more
_CAPTION_ROOM = 60.0  # points left below a figure for its caption
_TABLE_KINDS = ("table", "callout", "signature")


def render(
    document: Node,
    page: Page,
    scenes: Mapping[str, Scene],
    style: Style = REGULAR,
    *,
    labels: Labels = ENGLISH,
) -> bytes:
    """The document as a DOCX file; the same input gives the same bytes.

    Raises ValueError for a kind of node it does not know, a figure no scene is named for, and a
    character that cannot be printed.
    """
    package = Package(page, style, labels)
    body = _Body(document, package, scenes)
    return package.finished(body.parts(), body.ordered)


def draw_ahead(scenes: Iterable[Scene]) -> None:
    """Draw the figures of several documents at once, which takes less time than those of each by themselves."""
    _drawn(scenes)


class _Place(Struct, frozen=True):
    """Where a block stands.

    line   width of the line in points
    left   indent in points
    depth  how many lists hold it
    style  of its paragraphs
    keep   stays on the page of the next block
    ends   is the last of an outermost list, so the space of a paragraph follows
    whole  is of a step in a column, which is not parted
    """

    line: float
    left: float = 0.0
    depth: int = 0
    style: str = "Normal"
    keep: bool = False
    ends: bool = False
    whole: bool = False


class _Body:
    """Writes the body; remembers only what must be unique or counted through the whole document."""

    def __init__(self, document: Node, package: Package, scenes: Mapping[str, Scene]) -> None:
        self.document = document
        self.package, self.scenes, self.style, self.labels = package, scenes, package.style, package.labels
        self.numbers = numbered(document, labels=self.labels)
        self.words = Words(document, package)
        self.ordered: list[tuple[int, int]] = []
        self.relations: dict[str, str] = {}
        self.writers: dict[str, Callable[[Node, _Place], str]] = {
            "heading": self._heading,
            "paragraph": self._paragraph,
            "list": self._list,
            "table": self._table,
            "callout": self._callout,
            "figure": self._figure,
            "signature": self._signature,
            "page_break": self._page_break,
            "rule": self._rule,
        }

    def parts(self) -> list[Part]:
        """The letterhead and the whole document, cut where the number of columns changes."""
        parts = [
            Part(run.n_columns, self.blocks(run.nodes, _Place(run.width)))
            for run in runs(self.document.children, self.scenes, self.style, self.package.area[0])
        ]
        head = self.letterhead()
        if head and parts and parts[0].n_columns == 1:
            return [replace(parts[0], content=head + parts[0].content), *parts[1:]]
        return [Part(1, head), *parts] if head else parts

    def blocks(self, nodes: Sequence[Node], place: _Place) -> str:
        """The blocks one after the other; each kind has its method."""
        parts = []
        for node, following in zip_longest(nodes, nodes[1:]):
            if node.kind not in self.writers:
                raise ValueError(f"a {node.kind} node cannot stand among the blocks of a DOCX")
            in_step = place.whole and following is not None
            here = replace(place, keep=in_step or leads_in(node, following), ends=place.ends and following is None)
            parts.append(self.writers[node.kind](node, here))
            if node.kind in _TABLE_KINDS:
                # tables that touch become one, and a cell must end with a paragraph
                parts.append(xml.paragraph("Spacer"))
        return "".join(parts)

    def letterhead(self) -> str:
        """A clinic's logo, name and address above the text, over a rule; nothing where a reference has its own head."""
        head = self.package.page.letterhead
        if head is None or not head.name or head.reference:
            return ""
        logo = ""
        if head.logo:
            relation = self.package.add_picture(head.logo.png)
            picture = xml.picture(self.words.new_id(), "logo", relation, head.logo.size, head.logo.alt)
            logo = xml.paragraph("Contact", picture)
        rule = xml.border("bottom", self.style.rule_heavy, head.accent)
        return (
            logo
            + xml.paragraph("Clinic", xml.run(head.name))
            + xml.paragraph("Contact", xml.run(head.contact), rule=rule)
            + xml.paragraph("Spacer")
        )

    def _heading(self, node: Node, place: _Place) -> str:
        return xml.paragraph(f"Heading{node.level}", self.words.heading(node), indent=_indent(place))

    def _paragraph(self, node: Node, place: _Place) -> str:
        return xml.paragraph(
            place.style,
            self.words.runs(node.children),
            keep=place.keep or None,
            whole=place.whole,
            space_after=self._end_space(place),
            indent=_indent(place),
        )

    def _list(self, node: Node, place: _Place) -> str:
        level = min(place.depth, N_LEVELS - 1)
        number = BULLETS
        if node.ordered:
            self.ordered.append((level, node.start))
            number = len(self.ordered) + 1
        items = []
        for item in node.children:
            last = item is node.children[-1] and (place.ends or place.depth == 0)
            whole = node.ordered and self.style.columns > 1
            items.append(self._item(item, replace(place, ends=last, whole=whole), (number, level), node.ordered))
        return "".join(items)

    def _item(self, node: Node, place: _Place, number: tuple[int, int], ordered: bool) -> str:
        """The mark stands before the first paragraph; what follows in the item is indented with it."""
        first = node.children[0] if node.children else None
        starts = first is not None and first.kind == "paragraph"
        content = self.words.runs(first.children) if first is not None and starts else ""
        keep = True if starts and len(node.children) > 1 else None
        rest = node.children[1:] if starts else node.children
        after = None if rest else self._end_space(place)
        step = self.style.indent
        if node.checked is None:
            style = "ListNumber" if ordered else "ListBullet"
            # the level gives the indent unless a call-out in between has moved the left edge
            moved = place.left != place.depth * step
            head = xml.paragraph(
                style,
                content,
                keep=keep,
                whole=place.whole,
                number=number,
                space_after=after,
                indent=(place.left + step, step) if moved else None,
            )
        else:
            step += 4
            content = xml.tick_box(self.words.new_id(), node.checked) + xml.run("\t") + content
            head = xml.paragraph("ListTick", content, keep=keep, space_after=after, indent=(place.left + step, step))
        inner = replace(place, left=place.left + step, depth=place.depth + 1, style="ListContinue")
        return head + self.blocks(rest, inner)

    def _end_space(self, place: _Place) -> float | None:
        return self.style.body.after if place.ends else None

    def _table(self, node: Node, place: _Place) -> str:
        size, is_sheet = self.style.cell.size, self.style.columns > 1
        longer = _LONGER_IN_SHEET if is_sheet else LONGER_IN_WORD
        widths = column_widths(
            node,
            place.line - place.left,
            lambda text, bold: arial_width(text, size, bold) * longer,
            beside_text(self.style) + (0.0 if is_sheet else _TO_SPARE),
            closest=self.style.closest,
        )
        if not widths:
            return ""
        n_rows = len(node.children)
        short = n_rows <= _SHORT_TABLE and not self.style.closest
        rows = []
        for at, row in enumerate(node.children):
            # the head stays with the first row, the last row is never alone, a short one stays whole
            keep = at < n_rows - 1 and (short or row.header or at == n_rows - 2)
            rows.append(self._row(row, widths, node.aligns, keep))
        header = any(row.header for row in node.children)
        body = xml.table(
            widths,
            "".join(rows),
            style="RecordTable",
            indent=place.left,
            header=header,
            title=node.caption,
            to_left=self.labels.runs_left,
        )
        return self._caption(node, [Node("text", text=node.caption)], place, keep=True) + body

    def _row(self, row: Node, widths: Sequence[float], aligns: Sequence[str], keep: bool) -> str:
        style = "TableHeading" if row.header else "TableText"
        cells = []
        for cell, width, align in zip(row.children, widths, aligns, strict=True):
            text = xml.paragraph(
                style, self.words.runs(cell.children), keep=keep or None, align=align if align != "left" else ""
            )
            cells.append(xml.cell(width, text, fill=self.style.row_fill.get(row.role)))
        whole = all(len(cell.plain()) <= _SHORT_ROW for cell in row.children)
        return xml.row("".join(cells), header=row.header, whole=whole)

    def _callout(self, node: Node, place: _Place) -> str:
        bar, thin, grey = self.style.callout_bar[node.tone], self.style.rule_light, self.style.rule_shade
        edges = (
            xml.border("top", thin, grey)
            + xml.border("left", bar)
            + xml.border("bottom", thin, grey)
            + xml.border("right", thin, grey)
        )
        width = place.line - place.left - bar - thin / 2  # the edges are drawn outside the cell
        margins = (4.0, 9.0, 4.0, 9.0)
        inside = self.blocks(node.children, _Place(width - margins[1] - margins[3], style="Callout"))
        cell = xml.cell(
            width, inside or xml.paragraph("Callout"), edges=edges, fill=self.style.callout_fill, margins=margins
        )
        rows = xml.row(cell, whole=len(node.plain()) <= _SHORT_CALLOUT)
        title = getattr(self.labels, node.tone)
        return xml.table([width], rows, indent=place.left, title=title, to_left=self.labels.runs_left)

    @cached_property
    def _pictures(self) -> dict[Scene, bytes]:
        """Every drawing of the document."""
        figures = [node for node in self.document.walk() if node.kind == "figure"]
        return _drawn(scene_named(node.name, self.scenes) for node in figures)

    def _figure(self, node: Node, place: _Place) -> str:
        """The drawing, or a paragraph for each row of its panels; rows at true size stay together, since what the print
        is checked by lies beside what it checks."""
        scene = scene_named(node.name, self.scenes)
        tall, room = self.package.area[1] - _CAPTION_ROOM, place.line - place.left
        rows = _rows(scene, room, self.style.panel_scale)
        together = any(panel.true_size for row in rows for panel, _ in row)
        shown, numbers = "", count(1)
        for row in rows:
            drawing = ""
            for panel, largest in row:
                name = f"{node.name}-{next(numbers)}" if scene.panels else node.name
                if name not in self.relations:
                    self.relations[name] = self.package.add_picture(self._pictures[panel])
                scale = min(largest, room / panel.w, tall / panel.h)
                size = (panel.w * scale, panel.h * scale)
                drawing += xml.run(" ") if drawing else ""
                drawing += xml.picture(self.words.new_id(), name, self.relations[name], size, panel.alt)
            keep = bool(node.children) if row is rows[-1] else together
            shown += xml.paragraph("Normal", drawing, keep=keep or None, indent=_indent(place))
        return shown + self._caption(node, node.children, place, keep=False)

    def _caption(self, node: Node, words: list[Node], place: _Place, keep: bool) -> str:
        """Number and words of a figure or table; the number is a field, so it survives editing."""
        if id(node) not in self.numbers:
            return ""
        name, _, number = self.numbers[id(node)].rpartition(" ")
        field = xml.field(f"SEQ {node.kind.capitalize()} \\* ARABIC", number)
        content = xml.run(f"{name} ") + field + xml.run(". ") + self.words.runs(words)
        return xml.paragraph("Caption", content, keep=keep, indent=_indent(place))

    def _signature(self, node: Node, place: _Place) -> str:
        """Two ruled lines in a row that is never split, tied to the space left above them."""
        line = min(place.line - place.left, 430.0)
        widths = [line * 0.62, line * 0.06, line * 0.32]
        rule = xml.border("top", self.style.rule_heavy)
        shown = (self.words.runs(node.children), "", xml.run(self.labels.date))
        cells = "".join(
            xml.cell(width, xml.paragraph("Signature", under), edges=under and rule, margins=(3, 0, 0, 0))
            for width, under in zip(widths, shown, strict=True)
        )
        above = xml.paragraph("Break", keep=True, space_before=SIGNING_ROOM)
        return above + xml.table(widths, xml.row(cells), indent=place.left, to_left=self.labels.runs_left)

    def _page_break(self, node: Node, place: _Place) -> str:
        return xml.paragraph("Break", break_before=True)

    def _rule(self, node: Node, place: _Place) -> str:
        edge = xml.border("bottom", self.style.rule_light, self.style.rule_shade)
        return xml.paragraph("Spacer", rule=edge) + xml.paragraph("Spacer")


def _drawn(scenes: Iterable[Scene]) -> dict[Scene, bytes]:
    """The picture of each figure, or of each panel of it."""
    from docgen.rendering.picture import pngs  # draws with two heavy libraries

    return pngs(down_to_letters(panel) for scene in scenes for panel in scene.panels or (scene,))


def _indent(place: _Place) -> tuple[float, float] | None:
    return (place.left, 0.0) if place.left else None


def _rows(scene: Scene, room: float, scale: float) -> list[list[tuple[Scene, float]]]:
    """Rows of pictures of a figure that is `room` points wide, each with the share of its size it has at most."""
    if not scene.panels:
        return [[(down_to_letters(scene), 1.0)]]
    rows = rows_of(scene.panels, room, scale)
    return [[(down_to_letters(placed.panel), placed.scale) for placed in row] for row in rows]
