"""Numbers of figures and tables, and anchors of headings, equal in every format."""

from __future__ import annotations

import re

from docgen.rendering.labels import ENGLISH, Labels
from docgen.rendering.tree import Node

_NOT_WORD = re.compile(r"\W+")


def numbered(document: Node, *, labels: Labels = ENGLISH) -> dict[int, str]:
    """Label of each captioned figure and table, by the node's id(): "Figure 1", "Table 2".

    Figures and tables count apart, in reading order; without a caption there is no number.
    """
    numbers: dict[int, str] = {}
    n_figures = n_tables = 0
    for node in document.walk():
        if node.kind == "figure" and node.children:
            n_figures += 1
            numbers[id(node)] = f"{labels.figure} {n_figures}"
        elif node.kind == "table" and node.caption:
            n_tables += 1
            numbers[id(node)] = f"{labels.table} {n_tables}"
    return numbers


def anchors(document: Node) -> dict[int, str]:
    """Anchor of each heading, by the node's id(): its words in lower case joined by hyphens.

    A second heading of the same words gets -2 behind it, a third -3. A link to #anchor leads there.
    """
    names: dict[int, str] = {}
    taken: set[str] = set()
    for node in document.walk():
        if node.kind == "heading":
            base = _NOT_WORD.sub("-", node.plain().lower()).strip("-") or "section"
            name, n_same = base, 1
            while name in taken:
                n_same += 1
                name = f"{base}-{n_same}"
            taken.add(name)
            names[id(node)] = name
    return names
