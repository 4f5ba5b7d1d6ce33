"""Contradictions within the rows of a trial, its day totals and its sessions, that no payer's rule is needed to see."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

from docgen.case.record import COLUMNS, Column, Row, Sheet
from docgen.case.session import COLUMNS as OF_SESSIONS
from docgen.case.session import SESSIONS
from docgen.case.totals import COLUMNS as OF_TOTALS
from docgen.case.totals import TOTALS
from docgen.errors import Problem

OF_EACH = ("prompted",)  # told of each attempt of a block, and never once for all of it


def of_sheet(sheet: Sheet, rows: Sequence[Any], where: Callable[[int], str]) -> Iterator[Problem]:
    """What the rows of one sheet contradict of each other; `where` names the place of a line."""
    return (of_totals if sheet is TOTALS else of_sessions if sheet is SESSIONS else of_rows)(rows, where)


def of_rows(rows: Sequence[Row], row_where: Callable[[int], str]) -> Iterator[Problem]:
    blocks: dict[tuple[Any, str], list[Any]] = defaultdict(list)
    numbers: dict[tuple[Any, ...], int] = {}
    for row in rows:
        blocks[row.date, row.method].append(row)
        if row.attempt is not None:
            number = (row.date, row.method, row.attempt)
            if number in numbers:
                yield Problem(
                    row_where(row.line),
                    f"attempt {row.attempt} of '{row.method}' on {row.date} is there twice",
                    f"It stands first on line {numbers[number]}. Count on through the day, in a second block too.",
                )
            numbers.setdefault(number, row.line)
        yield from _contacts(row, row_where)
    for (day, method), block in blocks.items():
        yield from _once_or_always(block, COLUMNS, f"'{method}' on {day}", row_where)


def of_totals(totals: Sequence[Any], where: Callable[[int], str]) -> Iterator[Problem]:
    days: dict[tuple[Any, str], list[Any]] = defaultdict(list)
    for total in totals:
        days[total.date, total.method].append(total)
        yield from _contacts(total, where)
    for (day, method), of_day in days.items():
        of_tasks = [total for total in of_day if not total.of_whole_day]  # what the day says is none of theirs
        yield from _once_or_always(of_tasks, OF_TOTALS, f"'{method}' on {day}", where)


def of_sessions(rows: Sequence[Any], where: Callable[[int], str]) -> Iterator[Problem]:
    days: dict[Any, list[Any]] = defaultdict(list)
    for row in rows:
        days[row.date].append(row)
        yield from _contacts(row, where)
    for day, of_day in days.items():
        yield from _once_or_always(of_day, OF_SESSIONS, f"the session of {day}", where)


def _contacts(row: Any, where: Callable[[int], str]) -> Iterator[Problem]:
    if row.person_contacts and row.person_contacts > (row.contacts or 0):
        yield Problem(
            where(row.line),
            f"{row.person_contacts} collisions with a person, but {row.contacts or 0} collisions",
            "A collision with a person counts as a collision too.",
        )


def _once_or_always(
    rows: list[Any], columns: Iterable[Column], shown: str, where: Callable[[int], str]
) -> Iterator[Problem]:
    """An amount stands once for the block, or on every row of it."""
    for column in (c.name for c in columns if c.per_block):
        filled = [row for row in rows if getattr(row, column) is not None]
        if (0 if column in OF_EACH else 1) < len(filled) < len(rows):
            yield Problem(
                where(filled[1].line),
                f"{column} stands on {len(filled)} of the {len(rows)} rows of {shown}",
                "Write it on every row." if column in OF_EACH else "Write it once for the block, or on every row.",
            )
