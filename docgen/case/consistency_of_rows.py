"""Contradictions within the rows of a trial, its day totals and its sessions, that no payer's rule is needed to see."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from docgen.case.model import Case
from docgen.case.record import COLUMNS, Column
from docgen.case.session import COLUMNS as OF_SESSIONS
from docgen.case.totals import COLUMNS as OF_TOTALS
from docgen.errors import Problem


def of_rows(case: Case, row_where: Callable[[int], str]) -> Iterator[Problem]:
    blocks: dict[tuple[Any, str], list[Any]] = defaultdict(list)
    numbers: dict[tuple[Any, ...], int] = {}
    for row in case.records:
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
    for (day, method), rows in blocks.items():
        yield from _once_or_always(rows, COLUMNS, f"'{method}' on {day}", row_where)


def of_totals(case: Case, where: Callable[[int], str]) -> Iterator[Problem]:
    days: dict[tuple[Any, str], list[Any]] = defaultdict(list)
    for total in case.totals:
        days[total.date, total.method].append(total)
        yield from _contacts(total, where)
    for (day, method), totals in days.items():
        yield from _once_or_always(totals, OF_TOTALS, f"'{method}' on {day}", where)


def of_sessions(case: Case, where: Callable[[int], str]) -> Iterator[Problem]:
    days: dict[Any, list[Any]] = defaultdict(list)
    for row in case.sessions:
        days[row.date].append(row)
        yield from _contacts(row, where)
    for day, rows in days.items():
        yield from _once_or_always(rows, OF_SESSIONS, f"the session of {day}", where)


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
        if 1 < len(filled) < len(rows):
            yield Problem(
                where(filled[1].line),
                f"{column} stands on {len(filled)} of the {len(rows)} rows of {shown}",
                "Write it once for the block, or on every row.",
            )
