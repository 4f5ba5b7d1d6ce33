"""Sums of training sessions in a spreadsheet -> the lines of a case that hold them, for the therapist to look over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.mistakes import toml_of
from docgen.case.training import SessionTotal
from docgen.errors import Problem, UserError
from docgen.spreadsheet.asking import Asking
from docgen.spreadsheet.cells import Grid
from docgen.spreadsheet.layout import layout
from docgen.spreadsheet.understand import Understood

_WIDTH = 110
_OF_COLUMN = {
    "attempts": "tries",
    "note": "says",
    "supervisor": "by",
}  # column of totals -> key of a session, else alike
_KEPT = {"place": "place", "where": "place", "who was there": "by", "with": "by", "present": "by"}
_NUMBERS = ("tries", "done", "minutes", "prompts_verbal", "prompts_physical")


class SumsOfLessons(UserError):
    """A sheet of lessons that holds sums, with the lines of case.toml that say the same."""

    def __init__(self, problem: Problem, lines: Sequence[str]) -> None:
        super().__init__([problem])
        self.lines = lines


def lines_of_sessions(grids: Sequence[Grid], read: Understood) -> list[str]:
    """Each session as an entry of [training.totals], with what the sheet says of it and nothing else; no line for a row
    of which the day or what was practiced cannot be told."""
    placed = layout(grids, Asking({}), lessons=False)
    task = placed.column("task") if placed else None
    cells = dict(placed.rows) if placed else {}
    lines: list[str] = []
    for number, row in zip(read.lines, read.rows, strict=True):
        practiced = cells[number][task.at] if task and number in cells and task.at < len(cells[number]) else None
        if row.get("date") and practiced:
            keys = {"task": str(practiced).strip(), **_keys(row), **_kept(read.kept.get(number, {}))}
            lines += _entry(row["date"], keys)
    return lines


def _keys(row: dict[str, str]) -> dict[str, str | float]:
    renamed = {_OF_COLUMN.get(column, column): value for column, value in row.items() if value}
    known = {key: value for key, value in renamed.items() if key in SessionTotal.model_fields and key != "task"}
    return {key: float(value) if key in _NUMBERS else value for key, value in known.items()}


def _kept(cells: dict[str, str]) -> dict[str, str]:
    named = {_KEPT.get(heading.strip().lower(), ""): text.strip() for heading, text in cells.items() if text.strip()}
    return {key: text for key, text in named.items() if key}


def _entry(day: str, keys: dict[str, str | float]) -> Iterator[str]:
    """An entry, broken after a comma where a line is full."""
    line = f"{day} = {{ "
    pairs = [f"{key} = {f'{value:g}' if isinstance(value, float) else toml_of(value)}" for key, value in keys.items()]
    for at, pair in enumerate(pairs):
        piece = pair + (" }" if at == len(pairs) - 1 else ", ")
        if len((line + piece).rstrip()) > _WIDTH:
            yield line.rstrip()
            line = "  "
        line += piece
    yield line.rstrip()
