"""Inline nodes -> runs of text, each in its face, with its links."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from docgen.rendering.fonts import FACES
from docgen.rendering.markup import followable
from docgen.rendering.pdf.lines import Line, Link, Run, broken
from docgen.rendering.pdf.structure import Element
from docgen.rendering.style import TextStyle
from docgen.rendering.tree import Node


@dataclass(frozen=True, slots=True)
class _Marks:
    """What surrounds a text: weight, slant, a gap, a link."""

    bold: bool
    italic: bool
    gap: bool = False
    link: Link | None = None


class Words:
    """Lays words into lines; `places` are the anchors a link may lead to."""

    def __init__(self, places: frozenset[str]) -> None:
        self.places = places

    def lines(self, nodes: Sequence[Node], width: float, style: TextStyle) -> list[Line]:
        """The nodes as lines of at most that many points. Raises MissingGlyphError."""
        runs = self._runs(nodes, _Marks(style.bold, style.italic))
        return broken(runs, width, style.size)

    def _runs(self, nodes: Sequence[Node], marks: _Marks) -> Iterator[Run]:
        for node in nodes:
            if node.kind == "text":
                yield Run(node.text, FACES[marks.bold, marks.italic], marks.gap, marks.link)
            else:
                yield from self._runs(node.children, self._within(node, marks))

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
        raise ValueError(f"a {node.kind} node cannot stand in a line of a PDF")

    def _link(self, node: Node) -> Link | None:
        """A live link, or none where there is nothing to lead to."""
        target = str(node.target)
        leads = target[1:] in self.places if target.startswith("#") else followable(target)
        if not leads:
            return None
        says = node.plain() if target.startswith("#") else f"{node.plain()} ({target})"
        return Link(target, says, Element("Link"))
