"""The mark that a counting page writes into its rows: which case they were counted for."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from msgspec.structs import replace

from docgen.case.key import known_key, mark_of
from docgen.errors import Problem, UserError
from docgen.spreadsheet.cells import Grid

COUNTED_FOR = "counted_for"


def without_mark(grids: Sequence[Grid], folder: Path, source: Path) -> tuple[Grid, ...]:
    """The sheets of a file without the column of the mark. Raises UserError for rows counted for another case."""
    return tuple(_without_mark(grid, mark_of(known_key(folder)), source) for grid in grids)


def _without_mark(grid: Grid, mark: str, source: Path) -> Grid:
    _, head = grid.rows[0]
    if COUNTED_FOR not in head:
        return grid
    at = head.index(COUNTED_FOR)
    for line, cells in grid.rows[1:]:
        if len(cells) > at and cells[at] is not None and str(cells[at]) != mark:
            do = "Take it into the case whose counting page made it; 'docgen count CASE' makes the page of this one."
            raise UserError([Problem(f"{source}:{line}", "was counted for another case", do)])
    return replace(grid, rows=tuple((line, (*cells[:at], *cells[at + 1 :])) for line, cells in grid.rows))
