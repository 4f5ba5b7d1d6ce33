"""Tree of nodes -> one HTML file that needs nothing else: no script, no font, no picture from outside."""

from __future__ import annotations

import base64
from collections.abc import Callable, Mapping, Sequence

from docgen.arial import arial_width
from docgen.rendering.columns import SIDE_PADDING, column_widths
from docgen.rendering.direction import is_latin, stretches
from docgen.rendering.html.sheet import sheet
from docgen.rendering.labels import ENGLISH, Labels
from docgen.rendering.letterhead import Letterhead
from docgen.rendering.markup import escaped, followable
from docgen.rendering.numbering import anchors, numbered
from docgen.rendering.page import Page
from docgen.rendering.paper import text_area
from docgen.rendering.scenes import scene_named
from docgen.rendering.style import REGULAR, Style
from docgen.rendering.svg import svg
from docgen.rendering.tree import Node
from docgen.scene import Scene, groups_of

SENDS = 2
_LONG_WORD = 30  # characters; a cell holding one may break it rather than scroll
# ids of our own hold a dot, which no heading's anchor does
_POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
_POLICY_WITH_PICTURES = f"{_POLICY}; img-src data:"


def render(
    document: Node,
    page: Page,
    scenes: Mapping[str, Scene],
    style: Style = REGULAR,
    *,
    labels: Labels = ENGLISH,
) -> bytes:
    """The document as an HTML file in UTF-8; the same input gives the same bytes.

    Raises ValueError for a kind of node it does not know, a figure no scene is named for, and a
    character that cannot be printed.
    """
    line = text_area(page, style)[0]
    main = _Main(document, scenes, style, labels, line).blocks(document.children)
    status = f'<p class="status">{escaped(page.status)}</p>\n' if page.status else ""
    head = _letterhead(page.letterhead) if page.letterhead and page.letterhead.name else ""
    pictures = 'src="data:' in head or "<image " in main
    policy = _POLICY_WITH_PICTURES if pictures else _POLICY
    day = page.day(labels)
    dated = (
        f'<p class="running"><time datetime="{page.dated_on.isoformat()}">{escaped(day)}</time></p>\n' if day else ""
    )
    author = f'<meta name="author" content="{escaped(page.author)}">\n' if page.author else ""
    return f"""<!DOCTYPE html>
<html lang="{escaped(page.lang)}"{' dir="rtl"' if labels.runs_left else ""}>
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="{policy}">
{author}<title>{escaped(page.title)}</title>
<style>{sheet(page, style, labels)}</style>
</head>
<body>
{head}<header>
{status}<p class="running">{escaped(page.running_head)}</p>
{dated}</header>
{_jumps(page)}<main>
{main}</main>
</body>
</html>
""".encode()


def _jumps(page: Page) -> str:
    """Links that stay in sight on a screen; nothing for a page without."""
    links = "".join(f'<a href="{escaped(target)}">{escaped(words)}</a>\n' for words, target in page.jumps)
    return f'<nav class="jumps">\n{links}</nav>\n' if links else ""


def _letterhead(letterhead: Letterhead) -> str:
    """A clinic's logo, held in the page itself, beside its name and address."""
    logo = ""
    if letterhead.logo:
        width, height = letterhead.logo.size
        data = base64.b64encode(letterhead.logo.png).decode()
        logo = (
            f'<img src="data:image/png;base64,{data}" width="{width / 0.75:.0f}" height="{height / 0.75:.0f}" '
            f'alt="{escaped(letterhead.logo.alt)}">\n'
        )
    contact = f'<p class="contact">{escaped(letterhead.contact)}</p>\n' if letterhead.contact else ""
    return (
        f'<section class="letterhead" aria-label="{escaped(letterhead.name)}">\n{logo}<div>\n<p '
        f'class="clinic">{escaped(letterhead.name)}</p>\n{contact}</div>\n</section>\n'
    )


class _Main:
    """Writes the text; remembers only numbers and what must be unique in the page."""

    def __init__(self, document: Node, scenes: Mapping[str, Scene], style: Style, labels: Labels, line: float) -> None:
        self.scenes, self.style, self.labels, self.line = scenes, style, labels, line
        self.numbers = numbered(document, labels=labels)
        self.anchors = anchors(document)
        self.places = frozenset(self.anchors.values())
        self.n_ids = 0
        self.writers: dict[str, Callable[[Node], str]] = {
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

    def blocks(self, nodes: Sequence[Node]) -> str:
        """The blocks one after the other, a line each; each kind has its method."""
        parts = []
        for node in nodes:
            if node.kind not in self.writers:
                raise ValueError(f"a {node.kind} node cannot stand among the blocks of an HTML page")
            parts.append(self.writers[node.kind](node) + "\n")
        return "".join(parts)

    def _heading(self, node: Node) -> str:
        return f'<h{node.level} id="{self.anchors[id(node)]}">{self.inlines(node.children)}</h{node.level}>'

    def _paragraph(self, node: Node) -> str:
        return f"<p>{self.inlines(node.children)}</p>"

    def _list(self, node: Node) -> str:
        name = "ol" if node.ordered else "ul"
        start = f' start="{node.start}"' if node.ordered and node.start != 1 else ""
        items = "".join(self._item(item) for item in node.children)
        return f"<{name}{start}>\n{items}</{name}>"

    def _item(self, node: Node) -> str:
        """An item; its first paragraph stands bare, and names the tick box if there is one."""
        first = node.children[0] if node.children else None
        starts = first is not None and first.kind == "paragraph"
        head = self.inlines(first.children) if first is not None and starts else ""
        rest = self.blocks(node.children[1:] if starts else node.children)
        rest = f"\n{rest}" if rest else ""
        if node.checked is None:
            return f"<li>{head}{rest}</li>\n"
        name, on = self._new_id("tick"), " checked" if node.checked else ""
        box = f'<input type="checkbox" disabled{on} aria-labelledby="{name}">'
        return f'<li class="tick">{box}<span id="{name}">{head}</span>{rest}</li>\n'

    def _table(self, node: Node) -> str:
        number = self.numbers.get(id(node))
        if number:
            name = self._new_id("table")
            caption = f'<caption id="{name}">{escaped(f"{number}. {node.caption}")}</caption>\n'
            region = f'role="region" aria-labelledby="{name}"'
        else:
            heads = ", ".join(cell.plain() for cell in node.children[0].children) if node.children else ""
            caption, region = "", f'role="group" aria-label="{escaped(heads or self.labels.table)}"'
        head = "".join(self._row(row, node.aligns) for row in node.children if row.header)
        row_heads = node.attrs.get("row_heads", False)
        body = "".join(self._row(row, node.aligns, row_heads) for row in node.children if not row.header)
        head = f"<thead>\n{head}</thead>\n" if head else ""
        wide, columns = self._columns(node)
        return (
            f'<div class="scroll" tabindex="0" {region}><table{wide}>\n{caption}{columns}{head}<tbody>\n'
            f"{body}</tbody>\n</table></div>"
        )

    def _columns(self, node: Node) -> tuple[str, str]:
        """Class of a table that fills the line, and its columns in shares of the table's width."""
        size, pad = self.style.cell.size, self.style.cell_padding + SIDE_PADDING
        widths = column_widths(node, self.line, lambda text, bold: arial_width(text, size, bold), pad)
        if not widths or sum(widths) < 0.99 * self.line:
            return "", ""
        shares = (f'<col style="width:{100 * width / sum(widths):.1f}%">' for width in widths)
        return ' class="wide"', f"<colgroup>{''.join(shares)}</colgroup>\n"

    def _row(self, row: Node, aligns: Sequence[str], row_heads: bool = False) -> str:
        """One row; with `row_heads` its first cell names it."""
        cells = []
        for at, (cell, align) in enumerate(zip(row.children, aligns, strict=True)):
            scope = ' scope="col"' if row.header else ' scope="row"' if row_heads and at == 0 else ""
            name = "th" if scope else "td"
            classes = [align] if align != "left" else []
            if any(len(word) > _LONG_WORD for word in cell.plain().split()):
                classes.append("long")
            marks = f' class="{" ".join(classes)}"' if classes else ""
            cells.append(f"<{name}{scope}{marks}>{self.inlines(cell.children)}</{name}>")
        role = f' class="row-{row.role}"' if row.role else ""
        return f"<tr{role}>{''.join(cells)}</tr>\n"

    def _callout(self, node: Node) -> str:
        named = escaped(getattr(self.labels, node.tone))
        inside = self.blocks(node.children)
        return f'<div class="callout {node.tone}" role="note" aria-label="{named}">\n{inside}</div>'

    def _figure(self, node: Node) -> str:
        scene = scene_named(node.name, self.scenes)
        drawing = self._drawing(scene)
        number = self.numbers.get(id(node))
        if not number:
            region = f'role="group" aria-label="{escaped(scene.alt)}"'
            return f"<figure>{self._framed(scene, drawing, region)}</figure>"
        name = self._new_id("figure")
        words = f"{escaped(number)}. {self.inlines(node.children)}"
        region = f'role="group" aria-labelledby="{name}"'
        framed = self._framed(scene, drawing, region)
        return f'<figure>{framed}\n<figcaption id="{name}">{words}</figcaption></figure>'

    def _drawing(self, scene: Scene) -> str:
        """The drawing, each of its panels by itself: the browser sets them in rows that fit the window."""
        if not scene.panels:
            return svg(scene, self._new_id("drawing"))
        groups = (
            "".join(svg(panel, self._new_id("drawing"), grows=True) for panel in group)
            for group in groups_of(scene.panels)
        )
        return "".join(f"<div>{group}</div>" for group in groups)

    @staticmethod
    def _framed(scene: Scene, drawing: str, region: str) -> str:
        """Panels flow; a drawing in one piece keeps its size and scrolls by itself where the window is narrower."""
        if scene.panels:
            return f'<div class="panels" {region}>{drawing}</div>'
        return f'<div class="scroll" tabindex="0" {region}>{drawing}</div>'

    def _signature(self, node: Node) -> str:
        words = self.inlines(node.children)
        return f'<div class="signature"><p>{words}</p><p>{escaped(self.labels.date)}</p></div>'

    def _page_break(self, node: Node) -> str:
        return '<div class="page-break"></div>'

    def _rule(self, node: Node) -> str:
        return "<hr>"

    def inlines(self, nodes: Sequence[Node]) -> str:
        """The words of a line with their marks."""
        return "".join(self._inline(node) for node in nodes)

    def _inline(self, node: Node) -> str:
        if node.kind == "text":
            return "".join(
                f'<bdi dir="auto">{escaped(text)}</bdi>' if to_left else escaped(text)
                for text, to_left in stretches(node.text)
            )
        if node.kind == "passage" and not is_latin(words := node.plain()):
            return f'<bdi dir="auto" lang="{escaped(node.lang)}">{escaped(words)}</bdi>'
        inside = self.inlines(node.children)
        match node.kind:
            case "strong":
                return f"<strong>{inside}</strong>"
            case "emphasis":
                return f"<em>{inside}</em>"
            case "fact":
                return f'<span data-fact="{escaped(node.name)}">{inside}</span>'
            case "gap":
                return f'<mark class="gap" data-gap="{escaped(node.name)}">{inside}</mark>'
            case "link":
                return self._link(node.target, inside)
            case "passage":
                return f'<span lang="{escaped(node.lang)}">{inside}</span>'
        raise ValueError(f"a {node.kind} node cannot stand in a line of an HTML page")

    def _link(self, target: str, inside: str) -> str:
        """A live link, or its plain words where there is nothing to lead to."""
        leads = target[1:] in self.places if target.startswith("#") else followable(target)
        return f'<a href="{escaped(target)}">{inside}</a>' if leads else inside

    def _new_id(self, what: str) -> str:
        self.n_ids += 1
        return f"{what}.{self.n_ids}"
