"""Small trees built by hand, for texts that never went through Markdown, and the kinds of node."""

from __future__ import annotations

from docgen.rendering.tree import Node

# every kind of node that there is
BLOCKS = frozenset(
    "document heading paragraph list item table row cell callout figure signature page_break rule".split()
)
INLINES = frozenset("text strong emphasis fact gap link passage".split())


def text(words: str) -> Node:
    return Node("text", text=words)


def paragraph(*inlines: Node | str) -> Node:
    return Node("paragraph", children=[text(node) if isinstance(node, str) else node for node in inlines])


def document(*blocks: Node) -> Node:
    return Node("document", children=list(blocks))
