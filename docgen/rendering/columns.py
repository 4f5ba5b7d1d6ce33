"""Widths of a table's columns from what stands in them."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

from docgen.rendering.fewest_lines import fewest_lines
from docgen.rendering.tree import Node

SIDE_PADDING = 2.0  # points: more at the sides of a cell than above and below it, or columns run together
# a table that nearly fills the line is drawn out to the margin; a small one stays small
_NEARLY_FULL = 0.6


def column_widths(
    table: Node,
    room: float,
    measure: Callable[[str, bool], float],
    padding: float = 0.0,
    shown: Callable[[Node], str] = Node.plain,
    closest: bool = False,
) -> list[float]:
    """Width of each column in points; together never more than `room`. The last `even` columns of a table that has that
    attribute are alike.

    room     width of the line in points
    measure  (text, bold) -> its width in points on one line
    padding  space left and right of the text in every cell, in points
    shown    the words of a cell as they will stand there
    closest  whether columns that share a line give way to each other until the rows take the fewest lines

    Each column gets its text on one line if all fit. Otherwise short columns keep that, and long ones
    share what is left, no column below its longest word unless even the longest words do not fit.
    """
    widths = _by_text(table, room, measure, padding, shown, closest)
    alike = min(table.attrs.get("even", 0), len(widths))
    return [*widths[: len(widths) - alike], *([sum(widths[-alike:]) / alike] * alike if alike else ())]


def _by_text(
    table: Node,
    room: float,
    measure: Callable[[str, bool], float],
    padding: float,
    shown: Callable[[Node], str],
    closest: bool,
) -> list[float]:
    texts = _texts(table, shown)
    n_columns = len(texts)
    natural = [_widest(of_column, measure) + 2 * padding for of_column in texts]
    if sum(natural) <= room:
        stretch = room / sum(natural) if natural and sum(natural) > _NEARLY_FULL * room else 1.0
        return [width * stretch for width in natural]
    words = [{(word, bold) for text, bold in of_column for word in text.split()} for of_column in texts]
    least = [_widest(of_column, measure) + 2 * padding for of_column in words]
    if sum(least) > room:  # one very long word must not starve its neighbours
        least = [min(width, max(room / 3, room / n_columns)) for width in least]
    if sum(least) >= room:
        return _squeezed(least, room)
    shared = _shared(natural, least, room)
    if not closest:
        return shared
    rows = [[(shown(cell), _bold(row, cell)) for cell in row.children] for row in table.children]
    return fewest_lines(shared, _given_up_to(shared, least, rows), rows, measure, padding)


def _given_up_to(shared: list[float], least: list[float], rows: list[list[tuple[str, bool]]]) -> list[float]:
    """How narrow each column may become so that rows take fewer lines: as its longest word; a column to write in, of
    which half the cells or more are empty, gives up nothing."""
    to_fill = [2 * sum(at >= len(row) or not row[at][0] for row in rows) >= len(rows) for at in range(len(shared))]
    return [width if empty else word for width, word, empty in zip(shared, least, to_fill, strict=True)]


def _texts(table: Node, shown: Callable[[Node], str]) -> list[set[tuple[str, bool]]]:
    """Of each column what stands in its cells, each text once, and whether it is bold."""
    columns: list[set[tuple[str, bool]]] = [
        set() for _ in range(max((len(row.children) for row in table.children), default=0))
    ]
    for row in table.children:
        for texts, cell in zip(columns, row.children, strict=False):
            texts.add((shown(cell), _bold(row, cell)))
    return columns


def _bold(row: Node, cell: Node) -> bool:
    return bool(row.header) or any(child.kind != "text" and _is_bold(child) for child in cell.children)


def _widest(texts: set[tuple[str, bool]], measure: Callable[[str, bool], float]) -> float:
    """Width of the widest of these in points, 1 at least."""
    return max([1.0, *(measure(text, bold) for text, bold in texts)])


def _is_bold(node: Node) -> bool:
    return any(part.kind in ("strong", "gap") for part in node.walk())


def _squeezed(least: list[float], room: float) -> list[float]:
    """Widths when the longest words do not fit: only columns wider than an even share give way."""
    widths, open_columns, left = list(least), set(range(len(least))), room
    while small := {at for at in open_columns if least[at] <= left / len(open_columns)}:
        left -= sum(least[at] for at in small)
        open_columns -= small
    for at in open_columns:
        widths[at] = left / len(open_columns)
    return widths


def _shared(natural: list[float], least: list[float], room: float) -> list[float]:
    """Widths between longest word and whole text; the square root keeps one long note from taking all."""
    widths, spare = list(least), room - sum(least)
    hungry = {at for at, width in enumerate(widths) if natural[at] > width}
    while hungry and spare > 1e-6:
        weight = {at: sqrt(natural[at] - least[at]) for at in sorted(hungry)}
        total = sum(weight.values())
        given = {at: min(spare * weight[at] / total, natural[at] - widths[at]) for at in weight}
        for at, more in given.items():
            widths[at] += more
        spare -= sum(given.values())
        filled = {at for at in hungry if natural[at] - widths[at] < 1e-6}
        if not filled:
            break
        hungry -= filled
    return widths
