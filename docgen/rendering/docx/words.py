"""The words of a line as runs, with their emphases, gaps, links and bookmarks."""

from __future__ import annotations

from collections.abc import Sequence, Set

from docgen.rendering.direction import stretches
from docgen.rendering.docx import xml
from docgen.rendering.docx.package import Package
from docgen.rendering.markup import followable
from docgen.rendering.numbering import anchors
from docgen.rendering.tree import Node

_NO_MARKS: Set[str] = frozenset()


class Words:
    """Writes inline nodes; knows which headings links lead to, and hands out ids."""

    def __init__(self, document: Node, package: Package) -> None:
        self._package = package
        self._anchors = anchors(document)
        # a bookmark's name takes letters, digits and underscores only, so anchors are counted instead
        self._bookmarks = {name: f"heading_{at}" for at, name in enumerate(self._anchors.values(), 1)}
        targets = (node.target for node in document.walk() if node.kind == "link")
        self._wanted = {target[1:] for target in targets if target.startswith("#")}
        self._n_ids = 0

    def new_id(self) -> int:
        """A number no other picture, bookmark or tick box of the document has."""
        self._n_ids += 1
        return self._n_ids

    def heading(self, node: Node) -> str:
        """Runs of a heading, bookmarked if a link leads there."""
        runs, name = self.runs(node.children), self._anchors[id(node)]
        return xml.bookmarked(runs, self.new_id(), self._bookmarks[name]) if name in self._wanted else runs

    def runs(self, nodes: Sequence[Node], marks: Set[str] = _NO_MARKS) -> str:
        """Runs of inline nodes; `marks` are the emphases they stand in."""
        return "".join(self._run(node, marks) for node in nodes)

    def _run(self, node: Node, marks: Set[str]) -> str:
        match node.kind:
            case "text":
                return "".join(
                    xml.run(text, xml.emphases(marks, to_left, text)) for text, to_left in stretches(node.text)
                )
            case "strong" | "emphasis" | "gap":
                return self.runs(node.children, marks | {node.kind})
            case "fact":
                return self.runs(node.children, marks)
            case "link":
                return self._link(node, marks)
            case "passage":
                return self.runs(node.children, marks | {xml.LANGUAGE + node.lang})
        raise ValueError(f"a {node.kind} node cannot stand in a line of a DOCX")

    def _link(self, node: Node, marks: Set[str]) -> str:
        """A live link, or its plain words where there is nothing to lead to."""
        target = node.target
        bookmark = self._bookmarks.get(target[1:], "") if target.startswith("#") else ""
        if not bookmark and (target.startswith("#") or not followable(target)):
            return self.runs(node.children, marks)
        runs = self.runs(node.children, marks | {"link"})
        if bookmark:
            return xml.hyperlink(runs, bookmark=bookmark)
        return xml.hyperlink(runs, relation=self._package.add_link(target))
