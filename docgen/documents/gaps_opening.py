"""A gap that opens a sentence of running text starts with a capital, as any sentence does."""

from __future__ import annotations

import re

from docgen.rendering.tree import Node

_LINES = ("paragraph", "cell", "item")  # what may hold running text
_SENTENCE_OVER = re.compile(r"[.!?][\"')”’]*\s+$")
_WORD = re.compile(r"\w")


def capitalized(tree: Node) -> Node:
    """The tree in which each such gap has its capital. One that stands alone, in a cell or behind a label, opens no
    sentence and keeps its small letter."""
    for node in tree.walk():
        if node.kind in _LINES:
            _capitalize(node)
    return tree


def _capitalize(line: Node) -> None:
    pieces = [part for child in line.children for part in _inline(child)]
    if not any(part.kind == "gap" for part in pieces):
        return
    words = [part.plain() for part in pieces]
    for at, part in enumerate(pieces):
        before, after = "".join(words[:at]), "".join(words[at + 1 :])
        opens = _SENTENCE_OVER.search(before) if before.strip() else _WORD.search(after)
        if part.kind == "gap" and opens and part.children:
            first = part.children[0]
            first.text = first.text[:1].upper() + first.text[1:]


def _inline(node: Node) -> list[Node]:
    """Texts and gaps of a piece of a line, in reading order; none of a block, which is a line of its own."""
    if node.kind in ("text", "gap"):
        return [node]
    if node.kind in (*_LINES, "list", "table", "callout", "figure"):
        return []
    return [part for child in node.children for part in _inline(child)]
