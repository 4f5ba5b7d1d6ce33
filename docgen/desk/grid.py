"""Rows typed into a grid, and what is recorded by day: a grid is only another way to paste, so that rows of either are
looked at and asked about alike."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.record import TRIAL, Column, Sheet
from docgen.case.totals import TOTALS
from docgen.desk.picked import Choices
from docgen.evidence.blocks import of_tasks, of_whole_day
from docgen.evidence.done import counted

_AT_FIRST, _MORE, _MOST = 6, 6, 200
_ALONE = ("date", "method", "task", "order")  # what says nothing by itself: a row of no more than that is none
_USUAL = {
    "rows": ("date", "method", "task", "success", "missed", "unintended", "contacts", "release_s", "note"),
    "totals": ("date", "method", "task", "attempts", "done", "stops_asked", "stops_made", "contacts", "note"),
}
_SHEETS: Mapping[str, Sheet] = {"rows": TRIAL, "totals": TOTALS}
_TITLES = {"rows": "Attempts, one in a row", "totals": "Totals by day, one task of one control in a row"}
_YES_NO: Choices = (("1", "yes"), ("0", "no"))


class Head(Struct, frozen=True):
    """A column of a grid: its name in the file, the words over it, what it means, and what can be picked in it."""

    name: str
    words: str
    means: str
    kind: str
    choices: Choices = ()
    required: bool = False


class Grid(Struct, frozen=True):
    """A grid to type in: its columns, and the cells as they were typed, a row in a row."""

    id: str
    title: str
    heads: tuple[Head, ...]
    rows: tuple[tuple[str, ...], ...]
    is_filled: bool


class Day(Struct, frozen=True):
    """What is recorded of one control on one day."""

    day: str
    method: str
    n_done: int
    n_attempts: int
    missed: str
    contacts: str
    from_totals: bool


def grids(case: Case, form: Mapping[str, Sequence[str]], more: str = "") -> tuple[Grid, ...]:
    """The grid of attempts and that of totals by day, with what a form sent in them.

    more  id of the grid that is to have more rows
    """
    of_case = list[Grid]()
    for id_, sheet in _SHEETS.items():
        heads = tuple(_head(column, case) for column in _columns(id_, sheet, case))
        typed = _typed(id_, form, [head.name for head in heads])
        filled = [row for row in typed if any(row)]
        n_rows = min(max(len(typed), _AT_FIRST) + (_MORE if more == id_ else 0), _MOST)
        blank = ("",) * len(heads)
        rows = (*typed, *[blank] * (n_rows - len(typed)))
        of_case.append(Grid(id_, _TITLES[id_], heads, rows, bool(filled)))
    return tuple(of_case)


def text_of(form: Mapping[str, Sequence[str]], id_: str) -> str:
    """What was typed into a grid as a table with headings; "" where nothing was."""
    if id_ not in _SHEETS:
        return ""
    names = [name for name in _SHEETS[id_].by_name if f"{id_}.0.{name}" in form]
    rows = [row for row in _typed(id_, form, names) if _says_something(row, names)]
    if not rows:
        return ""
    written = [at for at, _ in enumerate(names) if any(row[at] for row in rows)]
    file = io.StringIO()
    table = csv.writer(file, delimiter="\t", lineterminator="\n")
    table.writerow([names[at] for at in written])
    table.writerows([[row[at] for at in written] for row in rows])
    return file.getvalue()


def by_day(case: Case) -> tuple[Day, ...]:
    """What is recorded, a line for each control and day, by day; done is what the rule of the case counts as that."""
    case = counted(case)
    names = {method.id: method.name for method in case.trial.methods}
    order = list(names)
    blocks: dict[tuple[str, str], list[int]] = {}
    for at, row in enumerate(case.tried):
        blocks.setdefault((row.date.isoformat(), row.method), []).append(at)
    return tuple(
        _day(case, day, names.get(method, method), blocks[day, method])
        for day, method in sorted(blocks, key=lambda block: (block[0], order.index(block[1])))
    )


def _day(case: Case, day: str, method: str, places: Sequence[int]) -> Day:
    rows = [case.tried[at] for at in places]
    missed = [row.missed for row in of_tasks(rows)]
    of_day = [row.contacts for row in rows if of_whole_day(row) and row.contacts is not None]
    contacts: list[int | None] = [*of_day] or [row.contacts for row in of_tasks(rows)]
    return Day(
        day,
        method,
        sum(row.n_done for row in rows),
        sum(row.n_attempts for row in rows),
        _sum(missed),
        _sum(contacts),
        places[0] >= len(case.records),
    )


def _sum(counts: Sequence[int | None]) -> str:
    """The sum of counts; what was counted in no row is not recorded, and in some of them only in those."""
    known = [count for count in counts if count is not None]
    if not known:
        return "not recorded"
    return str(sum(known)) if len(known) == len(counts) else f"{sum(known)} (counted in {len(known)} of {len(counts)})"


def _columns(id_: str, sheet: Sheet, case: Case) -> list[Column]:
    """The usual columns, and those in which the case has anything."""
    recorded = case.records if id_ == "rows" else case.totals
    used = {name for name in sheet.by_name if any(getattr(row, name, None) not in (None, ()) for row in recorded)}
    wanted = used.union(_USUAL[id_]) - {"attempt"}  # which number a row has is told by its place
    return [column for column in sheet.columns if column.name in wanted]


def _head(column: Column, case: Case) -> Head:
    choices: Choices = ()
    if column.name == "method":
        choices = tuple((method.id, method.name) for method in case.trial.methods)
    elif column.name == "task":
        choices = tuple((task.id, task.name) for task in case.trial.tasks)
    elif column.kind == "yes_no":
        choices = _YES_NO
    words = (column.head or column.name.replace("_", " ")) + (f" ({column.unit})" if column.unit else "")
    kind = "choice" if choices else "date" if column.kind == "date" else "words"
    return Head(column.name, words.removesuffix(f" {column.unit} ({column.unit})"), column.means, kind, choices,
                column.required)  # fmt: skip


def _typed(id_: str, form: Mapping[str, Sequence[str]], names: Sequence[str]) -> list[tuple[str, ...]]:
    """The cells of a grid as a form sent them, up to the last row in which there is anything."""
    rows = []
    for at in range(_MOST):
        cells = [form.get(f"{id_}.{at}.{name}", [""])[0] for name in names]
        rows.append(tuple(" ".join(cell.split()) for cell in cells))
    while rows and not any(rows[-1]):
        rows.pop()
    return rows


def _says_something(row: Sequence[str], names: Sequence[str]) -> bool:
    return any(cell for cell, name in zip(row, names, strict=True) if name not in _ALONE)
