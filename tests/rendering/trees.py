"""Small trees built by hand, for texts that never went through Markdown."""

from __future__ import annotations

from docgen.rendering.tree import Node


def text(words: str) -> Node:
    return Node("text", text=words)


def paragraph(*inlines: Node | str) -> Node:
    return Node("paragraph", children=[text(node) if isinstance(node, str) else node for node in inlines])


def document(*blocks: Node) -> Node:
    return Node("document", children=list(blocks))
