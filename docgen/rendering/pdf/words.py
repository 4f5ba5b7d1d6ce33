"""Inline nodes -> runs of text, each in its face, with its links."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from docgen.rendering.fonts import FACES, missing_glyphs
from docgen.rendering.markup import followable
from docgen.rendering.pdf.lines import Line, Link, Run, broken
from docgen.rendering.pdf.structure import Element, There
from docgen.rendering.style import TextStyle
from docgen.rendering.tree import Node


class _Marks(Struct, frozen=True):
    """What surrounds a text: weight, slant, a gap, a link, a passage in another language."""

    bold: bool
    italic: bool
    gap: bool = False
    link: Link | None = None
    passage: Element | None = None


class Ways(Struct, frozen=True):
    """Where the links of a document may lead.

    own        anchors of the document itself
    elsewhere  anchor of another document, in the same file or in one beside it -> its page
    page       stands before the number of a page; `pages` before those of more
    """

    own: frozenset[str]
    elsewhere: Mapping[str, There]
    page: str
    pages: str


class Words:
    """Lays words into lines."""

    def __init__(self, ways: Ways, not_set: str) -> None:
        self.ways = ways
        self.not_set = not_set  # stands for a passage in a script that the typeface lacks

    def lines(self, nodes: Sequence[Node], width: float, style: TextStyle) -> list[Line]:
        """The nodes as lines of at most that many points."""
        runs = self._runs(nodes, _Marks(style.bold, style.italic))
        return broken(runs, width, style.size)

    def plain(self, node: Node) -> str:
        """The words of a node as they are laid, pages of links included."""
        if node.kind == "passage" and missing_glyphs(node.plain()):
            return self.not_set
        own = node.text if node.kind == "text" else "".join(self.plain(child) for child in node.children)
        return own + self._page(node.target) if node.kind == "link" else own

    def _runs(self, nodes: Sequence[Node], marks: _Marks) -> Iterator[Run]:
        for node in nodes:
            if node.kind == "text":
                yield Run(node.text, FACES[marks.bold, marks.italic], marks.gap, marks.link, marks.passage)
                continue
            if node.kind == "passage" and missing_glyphs(node.plain()):
                yield Run(self.not_set, FACES[marks.bold, marks.italic], marks.gap, marks.link, marks.passage)
                continue
            within = self._within(node, marks)
            yield from self._runs(node.children, within)
            if node.kind == "link" and (page := self._page(node.target)):
                yield Run(page, FACES[within.bold, within.italic], within.gap, within.link, within.passage)

    def _within(self, node: Node, marks: _Marks) -> _Marks:
        match node.kind:
            case "strong":
                return replace(marks, bold=True)
            case "emphasis":
                return replace(marks, italic=True)
            case "fact":
                return marks
            case "gap":
                return replace(marks, bold=True, gap=True)
            case "link":
                return replace(marks, link=self._link(node))
            case "passage":
                return replace(marks, passage=Element("Span", lang=node.lang))
        raise ValueError(f"a {node.kind} node cannot stand in a line of a PDF")

    def _page(self, target: str) -> str:
        """The page of another document that a link leads to, in brackets."""
        anchor = target.removeprefix("#")
        leads_away = target.startswith("#") and anchor not in self.ways.own and anchor in self.ways.elsewhere
        return f" ({self.ways.elsewhere[anchor].in_words(self.ways.page, self.ways.pages)})" if leads_away else ""

    def _link(self, node: Node) -> Link | None:
        """A live link, or none where there is nothing to lead to."""
        target, anchor = str(node.target), str(node.target).removeprefix("#")
        if not target.startswith("#"):
            return Link(target, f"{node.plain()} ({target})", Element("Link")) if followable(target) else None
        if anchor in self.ways.own:
            return Link(target, node.plain(), Element("Link"), own=True)
        if there := self.ways.elsewhere.get(anchor):
            says = node.plain() + self._page(target)
            return Link(target, says, Element("Link"), there=there if there.file else None)
        return None
