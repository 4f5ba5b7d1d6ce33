"""Columns of a table moved against each other until its rows take the fewest lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache

_STEPS = (24.0, 12.0, 6.0, 3.0)  # points: coarse first, so that one long cell is not stopped by its neighbour
_LEAST_GAIN = 1


def fewest_lines(
    widths: Sequence[float],
    least: Sequence[float],
    rows: Sequence[Sequence[tuple[str, bool]]],
    measure: Callable[[str, bool], float],
    padding: float = 0.0,
) -> list[float]:
    """The widths, their sum unchanged, after every move of a few points from one column to another that saves a line.

    widths   in points, as they are
    least    below which no column goes, in points
    rows     of each row the words of its cells, and whether they are bold
    measure  (text, bold) -> its width in points on one line
    padding  space left and right of the text in every cell, in points
    """
    n_columns, current = len(widths), list(widths)
    space = measure(" ", False)
    words = [
        [[measure(word, bold) for word in text.split()] for text, bold in column]
        for column in zip(*([*row, *[("", False)] * (n_columns - len(row))] for row in rows), strict=True)
    ]

    @cache
    def lines(column: int, width: float) -> tuple[int, ...]:
        return tuple(_lines(cell, width - 2 * padding, space) for cell in words[column])

    def height(of: Sequence[float]) -> int:
        return sum(map(max, zip(*(lines(column, width) for column, width in enumerate(of)), strict=True)))

    best = height(current)
    for step in _STEPS:
        saved = True
        while saved:
            saved = False
            for giver in range(n_columns):
                for taker in range(n_columns):
                    if giver == taker or current[giver] - step < least[giver]:
                        continue
                    tried = list(current)
                    tried[giver], tried[taker] = round(tried[giver] - step, 3), round(tried[taker] + step, 3)
                    if (fewer := height(tried)) <= best - _LEAST_GAIN:
                        current, best, saved = tried, fewer, True
    return current


def _lines(words: Sequence[float], width: float, space: float) -> int:
    """How many lines these widths of words take."""
    n_lines, used = 1, 0.0
    for word in words:
        if used and used + space + word > width:
            n_lines, used = n_lines + 1, word
        else:
            used += word + (space if used else 0.0)
    return n_lines
