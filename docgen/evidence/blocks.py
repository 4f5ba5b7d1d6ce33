"""Rows and day totals grouped the way a sheet is filled: a block is one method on one day, all rows or all totals."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any, TypeVar

from msgspec import Struct

from docgen.case.record import Row
from docgen.case.totals import FILE as TOTALS_FILE
from docgen.case.totals import NO_LINE, DayTotal, Tried

AnyTried = TypeVar("AnyTried", Row, Tried)


class Block(Struct, frozen=True):
    """All rows, or all totals, of one method on one day, in the order of the file."""

    on: date
    method: str
    rows: tuple[Tried, ...]


def blocks(rows: Iterable[Tried]) -> tuple[Block, ...]:
    """Blocks by day, and within a day in the order in which they first appear."""
    grouped: dict[tuple[date, str], list[Tried]] = defaultdict(list)
    for row in rows:
        grouped[row.date, row.method].append(row)
    return tuple(
        Block(on, method, tuple(group)) for (on, method), group in sorted(grouped.items(), key=lambda g: g[0][0])
    )


def by_method(rows: Iterable[AnyTried]) -> dict[str, tuple[AnyTried, ...]]:
    """Rows of each method, in the order of the file."""
    grouped: dict[str, list[AnyTried]] = defaultdict(list)
    for row in rows:
        grouped[row.method].append(row)
    return {method: tuple(group) for method, group in grouped.items()}


def in_order(rows: Sequence[Tried]) -> tuple[Row, ...] | None:
    """Rows of one block by the number of their attempt; None where that says no order, for the lines of a file say
    none, and where they are totals."""
    attempts = [row for row in rows if isinstance(row, Row)]
    numbers = [row.attempt for row in attempts]
    if len(attempts) < len(rows) or (len(rows) > 1 and (None in numbers or len(set(numbers)) < len(numbers))):
        return None
    return tuple(sorted(attempts, key=lambda row: row.attempt or 0))


def rise(block: Block, scale: str) -> tuple[float, tuple[Tried, ...]] | None:
    """How much a scale rose from before a block to after it, and the rows or totals that say so.

    None where either is not recorded, or is recorded several times and nothing says which came first or last.
    """
    rows = in_order(block.rows) or block.rows
    before, after = recorded(rows, f"{scale}_before"), recorded(rows, f"{scale}_after")
    if not before or not after:
        return None
    several = {getattr(row, f"{scale}_before") for row in before}, {getattr(row, f"{scale}_after") for row in after}
    if any(len(values) > 1 for values in several) and in_order(block.rows) is None:
        return None
    first, last = before[0], after[-1]
    return getattr(last, f"{scale}_after") - getattr(first, f"{scale}_before"), (first, last)


def recorded(rows: Sequence[Any], column: str) -> list[Any]:
    """Rows in which this column is filled."""
    return [row for row in rows if getattr(row, column) is not None]


def of_whole_day(row: object) -> bool:
    """Whether a row is a total of the whole day with a method, which belongs to no task and counts no attempt."""
    return isinstance(row, DayTotal) and row.of_whole_day


def of_tasks(rows: Iterable[AnyTried]) -> tuple[AnyTried, ...]:
    """These rows without totals of the whole day."""
    return tuple(row for row in rows if not of_whole_day(row))


def counted_over(rows: Sequence[Tried], column: str) -> list[Tried]:
    """The rows of whose attempts a column says something: those that record it, and all of a day for which it is told
    as a whole."""
    days = {(row.date, row.method) for row in recorded(rows, column) if of_whole_day(row)}
    return [row for row in rows if getattr(row, column) is not None or (row.date, row.method) in days]


def total(rows: Sequence[Any], column: str) -> float | None:
    """Sum of a column over the rows that record it; None when none does."""
    values = [getattr(row, column) for row in recorded(rows, column)]
    return sum(values) if values else None


def lines(rows: Iterable[Any]) -> tuple[int, ...]:
    """Line numbers of the rows in their CSV file; totals have theirs in another one."""
    return tuple(row.line for row in rows if not isinstance(row, DayTotal))


def total_lines(rows: Iterable[object]) -> tuple[int, ...]:
    """Line numbers in totals.csv of those that are day totals."""
    return tuple(row.line for row in rows if isinstance(row, DayTotal) and row.line != NO_LINE)


def ranges(lines_of_file: Iterable[int]) -> str:
    """Line numbers in short: 2-9, 14."""
    spans: list[list[int]] = []
    for line in sorted(set(lines_of_file)):
        if spans and line == spans[-1][1] + 1:
            spans[-1][1] = line
        else:
            spans.append([line, line])
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in spans)


def cited_totals(of_totals: Sequence[int]) -> str:
    """Where day totals stand: totals.csv, lines 2-4."""
    return f"{TOTALS_FILE}, {'line' if len(of_totals) == 1 else 'lines'} {ranges(of_totals)}"


def tally(rows: Iterable[Tried]) -> tuple[int, int]:
    """How many attempts were done, and of how many."""
    n_done = n = 0
    for row in rows:
        n_done += row.n_done
        n += row.n_attempts
    return n_done, n


def n_attempts(rows: Iterable[Tried]) -> int:
    """How many attempts these rows and totals hold."""
    return tally(rows)[1]


class Exposure(Struct, frozen=True):
    """Events and what they happened over (metres or minutes), in rows that record both."""

    n_events: int
    amount: float
    rows: tuple[Any, ...]
    n_blocks_left_out: int


def exposure(rows: Sequence[Tried], events: str, amount: str) -> Exposure | None:
    """Events of one column over the amount in another; None when no block records both.

    An amount may stand on every row of a block or once for the block. Written once, it covers the whole
    block, so the block counts only when every row of it records its events. Blocks that lack either are
    left out and counted. A line of the whole day says both for the block.
    """
    return exposure_in([block.rows for block in blocks(rows)], events, amount)


def exposure_in(groups: Iterable[Sequence[Any]], events: str, amount: str) -> Exposure | None:
    """The same for rows that are grouped already, such as the sessions of a training."""
    n_events, sum_amount, used, left_out = 0, 0.0, [], 0
    for group in groups:
        filled = recorded(group, amount)
        tasks = [row for row in group if not of_whole_day(row)]
        if len(tasks) < len(group):
            is_counted = any(
                len(recorded(rows, events)) == len(rows)
                for rows in (tasks, [row for row in group if of_whole_day(row)])
            )
            counted = list(group) if filled and is_counted else []
        elif filled and len(filled) == len(group):
            counted = recorded(group, events)
        else:
            counted = list(group) if filled and len(recorded(group, events)) == len(group) else []
        amount_here = total(counted, amount)
        if not counted or not amount_here:
            left_out += 1
            continue
        n_events += sum(getattr(row, events) or 0 for row in counted)
        sum_amount += amount_here
        used += counted
    return Exposure(n_events, sum_amount, tuple(used), left_out) if used else None
