"""What stays together on a page, the same in every format that has pages."""

from __future__ import annotations

from docgen.rendering.tree import Node

SIGNING_ROOM = 24.0  # points above the line to sign on
_LED_INTO = frozenset({"list", "table", "figure", "callout"})


def leads_in(node: Node, following: Node | None) -> bool:
    """Whether a paragraph must not be parted from what follows: a signature, or what its colon leads to."""
    if node.kind != "paragraph" or following is None:
        return False
    return following.kind == "signature" or (following.kind in _LED_INTO and node.plain().rstrip().endswith(":"))
