"""Words that a reader may not know, explained where they first stand on a page."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping

from docgen.rendering.tree import Node


def explain_in_place(tree: Node, meanings: Mapping[str, str]) -> None:
    """Put the meaning of each word in brackets behind the first place where a sentence has it.

    Headings and the heads of tables stay as they are. A longer word is looked for before one that it holds.
    """
    open_yet = dict(sorted(meanings.items(), key=lambda entry: -len(entry[0])))
    for node in _sentences(tree):
        for word, meaning in [*open_yet.items()]:
            if place := re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])(?! \()", node.text, re.IGNORECASE):
                node.text = f"{node.text[: place.end()]} ({meaning}){node.text[place.end() :]}"
                del open_yet[word]


def _sentences(node: Node, left_out: Collection[str] = ("heading",)) -> Iterator[Node]:
    if node.kind == "text":
        yield node
    elif node.kind not in left_out and not (node.kind == "row" and node.header):
        for child in node.children:
            yield from _sentences(child)
