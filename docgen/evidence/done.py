"""What counts as done: a row written down as done with a collision, help by hand or a missed stop is not.

That is the definition on the printed sheets. Both counts are worked out, and the strict one stands in every number
until the therapist says, with `done_rule` under [trial], that a row was done by the rule of its task alone.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.session import SessionRow
from docgen.evidence.blocks import blocks, by_method
from docgen.evidence.fact import Fact
from docgen.evidence.proportion import wilson_interval

LEAST_BY_HAND = 5  # on the ladder of help: "you help with part of it"; the rungs below are words and signs
_FORMULA = "rows / attempts; Wilson score interval. Strict: no collision, no help by hand, no missed stop"
_SOURCE = "the definition of the column success; Wilson 1927"
_AnyRow = TypeVar("_AnyRow", Row, SessionRow)


@dataclass(frozen=True, slots=True)
class Overruled:
    """A row written down as done that the definition does not count, and each reason in a few words."""

    row: Row | SessionRow
    why: tuple[str, ...]


def overruled(case: Case) -> tuple[Overruled, ...]:
    """Rows of the trial that are written down as done against the definition, whatever rule the case names."""
    stops = {task.id for task in case.trial.tasks if task.shows == "stop"}
    told_by_row = {
        (block.on, block.method, column)
        for block in blocks(case.records)
        for column in _BY_HAND
        if _n_filled(block.rows, column) == len(block.rows)
    }
    return tuple(_against(case.records, lambda row: [*_collision(row), *_in_trial(row, stops, told_by_row)]))


def overruled_tries(case: Case) -> tuple[Overruled, ...]:
    """The same of the tries of training."""
    return tuple(_against(case.sessions, lambda row: [*_collision(row), *_in_training(row)]))


def helped_somewhere(case: Case) -> tuple[tuple[Row, ...], ...]:
    """Blocks in which every row is done and help by hand is counted once for all: which row had it is not recorded."""
    return tuple(
        block.rows
        for block in blocks(case.records)
        if all(row.success for row in block.rows)
        and any(
            0 < _n_filled(block.rows, column) < len(block.rows) and _some(block.rows, column) for column in _BY_HAND
        )
    )


def counted(case: Case) -> Case:
    """The case with each row counted as the rule of the case says; the very same case where that changes none."""
    if case.trial.done_rule == "task_rule":
        return case
    lines = {entry.row.line for entry in overruled(case)}
    if lines:
        case = case.with_records(_without(case.records, lines))
    lines = {entry.row.line for entry in overruled_tries(case)}
    return case.with_sessions(_without(case.sessions, lines)) if lines else case


def facts(case: Case) -> Iterator[Fact]:
    """done_recorded.<method> and done_strict.<method> of each method whose rows differ; since.done_recorded and
    since.done_strict of training."""
    lines = {entry.row.line for entry in overruled(case)}
    rows_of = by_method(case.records)
    for method in case.trial.methods:
        rows = rows_of.get(method.id, ())
        if any(row.line in lines for row in rows):
            yield from _both(f"done_recorded.{method.id}", f"done_strict.{method.id}", method.name, rows, lines)
    if lines := {entry.row.line for entry in overruled_tries(case)}:
        yield from _both("since.done_recorded", "since.done_strict", "tries of training", case.sessions, lines)


_BY_HAND = ("prompts_physical", "took_over")


def _against(rows: Iterable[_AnyRow], reasons: Callable[[_AnyRow], list[str]]) -> Iterator[Overruled]:
    return (Overruled(row, tuple(why)) for row in rows if row.success and (why := reasons(row)))


def _collision(row: Row | SessionRow) -> list[str]:
    return ["a collision"] if row.contacts or row.person_contacts else []


def _in_trial(row: Row, stops: Collection[str], told_by_row: Collection[tuple[date, str, str]]) -> Iterator[str]:
    """Reasons of the trial alone; help by hand counts where it is written for each attempt, and not once for the
    block."""
    if any(getattr(row, column) and (row.date, row.method, column) in told_by_row for column in _BY_HAND):
        yield "help by hand"
    if row.task in stops and row.missed:
        yield "a missed stop"


def _in_training(row: SessionRow) -> list[str]:
    return ["help by hand"] if (row.help or 0) >= LEAST_BY_HAND else []


def _n_filled(rows: Sequence[Row], column: str) -> int:
    return sum(getattr(row, column) is not None for row in rows)


def _some(rows: Sequence[Row], column: str) -> bool:
    return any(getattr(row, column) for row in rows)


def _without(rows: Sequence[_AnyRow], lines: Collection[int]) -> tuple[_AnyRow, ...]:
    return tuple(replace(row, success=False) if row.line in lines else row for row in rows)


def _both(
    recorded: str, strict: str, label: str, rows: Sequence[Row | SessionRow], lines: Collection[int]
) -> Iterator[Fact]:
    differing = tuple(row.line for row in rows if row.line in lines)
    as_written = sum(row.success for row in rows)
    for name, words, k in (
        (recorded, "written down as done", as_written),
        (strict, "done without collision, help by hand or missed stop", as_written - len(differing)),
    ):
        interval = wilson_interval(k, len(rows))
        yield Fact(
            name,
            "driving",
            f"{words}, {label}",
            "proportion",
            interval.share,
            len(rows),
            k,
            interval.low,
            interval.high,
            rows=differing,
            formula=_FORMULA,
            source=_SOURCE,
        )
