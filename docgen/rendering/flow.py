"""What stays together on a page, and what stands in its columns: the same in every format that has pages."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from operator import itemgetter

from msgspec import Struct

from docgen.rendering.scenes import scene_named
from docgen.rendering.style import Style
from docgen.rendering.tree import Node
from docgen.scene import Scene, rows_of

SIGNING_ROOM = 24.0  # points above the line to sign on
_LED_INTO = frozenset({"list", "table", "figure", "callout"})
_ACROSS = frozenset({"page_break", "rule", "signature"})  # these go across all columns
_OPENING = frozenset({"paragraph", "callout"})  # what stands below a title before the columns begin
_MOST_IN_COLUMN = 2  # columns of a table that stands in a column of the page
_TALL_IN_COLUMN = 330.0  # points; panels that would stand higher in a column go across all


def leads_in(node: Node, following: Node | None) -> bool:
    """Whether a paragraph must not be parted from what follows: a signature, or what its colon leads to."""
    if node.kind != "paragraph" or following is None:
        return False
    return following.kind == "signature" or (following.kind in _LED_INTO and node.plain().rstrip().endswith(":"))


class Run(Struct, frozen=True):
    """Blocks that follow each other in as many columns, each so many points wide."""

    n_columns: int
    width: float
    nodes: Sequence[Node]


def runs(nodes: Sequence[Node], scenes: Mapping[str, Scene], style: Style, width: float) -> list[Run]:
    """The blocks of a document in their order, by the columns they stand in on a page `width` points wide.

    Raises ValueError for a figure no scene is named for, where the style has columns.
    """
    if style.columns == 1:
        return [Run(1, width, nodes)]
    column = (width - (style.columns - 1) * style.gutter) / style.columns
    marked = zip(_across(nodes, scenes, style, column), nodes, strict=True)
    return [
        Run(1, width, [node for _, node in run]) if across else Run(style.columns, column, [node for _, node in run])
        for across, run in groupby(marked, key=itemgetter(0))
    ]


def _across(nodes: Sequence[Node], scenes: Mapping[str, Scene], style: Style, column: float) -> list[bool]:
    """Of each node whether it goes across all columns: the title and what opens the document, what is too wide for one,
    and a heading or a line that leads to such."""
    wide, opening = [], True
    for node in nodes:
        opening = opening and (node.kind in _OPENING or (node.kind == "heading" and node.level == 1))
        wide.append(opening or node.kind in _ACROSS or _is_wide(node, scenes, style, column))
    for at in range(len(nodes) - 2, -1, -1):
        leads = nodes[at].kind == "heading" or leads_in(nodes[at], nodes[at + 1])
        wide[at] = wide[at] or (leads and wide[at + 1] and nodes[at + 1].kind != "page_break")
    return wide


def _is_wide(node: Node, scenes: Mapping[str, Scene], style: Style, column: float) -> bool:
    if node.kind == "figure":
        scene = scene_named(node.name, scenes)
        if scene.panels:
            rows = rows_of(scene.panels, column, style.panel_scale)
            high = sum(max(placed.height for placed in row) for row in rows)
            return high > _TALL_IN_COLUMN or max(panel.w for panel in scene.panels) * style.panel_scale > column
        return scene.w * style.least_figure > column
    return node.kind == "table" and len(node.aligns) > _MOST_IN_COLUMN
