"""What counts as done: a row written down as done with a collision, help by hand or a missed stop is not.

That is the definition on the printed sheets. Both counts are worked out, and the strict one stands in every number
until the therapist says, with `done_rule` under [trial], that a row was done by the rule of its task alone.

A day total in which every attempt is done though a collision is counted contradicts the definition too. Which attempts
had them is not known, so the strict count takes each for an attempt of its own: it never counts more than was so.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from datetime import date
from typing import TypeVar

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.session import HELP, SessionRow
from docgen.case.totals import DayTotal, Tried
from docgen.evidence.blocks import blocks, by_method, of_tasks, of_whole_day, tally, total_lines
from docgen.evidence.blocks import lines as lines_of
from docgen.evidence.fact import Fact
from docgen.evidence.share import share_of

LEAST_BY_HAND = HELP.index("PP")  # partial physical assistance; those before it are words and signs
_FORMULA = "rows / attempts; Wilson score interval. Strict: no collision, no help by hand, no missed stop"
_SOURCE = "the definition of the column success; Wilson 1927"
_AnyRow = TypeVar("_AnyRow", Row, SessionRow)
_AnyTried = TypeVar("_AnyTried", Tried, SessionRow)


class Overruled(Struct, frozen=True):
    """A row or total written down as done that the definition does not count, and each reason in a few words.

    n  how many attempts it takes away: 1 of a row; of a total as many as may be, at most all
    """

    row: Tried | SessionRow
    why: tuple[str, ...]
    n: int


def overruled(case: Case) -> tuple[Overruled, ...]:
    """Rows of the trial that are written down as done against the definition, whatever rule the case names."""
    stops = case.trial.stop_tasks
    told_by_row = {
        (block.on, block.method, column)
        for block in blocks(of_tasks(case.tried))
        for column in _BY_HAND
        if _n_filled(block.rows, column) == len(block.rows)
    }
    of_lines = _against(case.tried, lambda row: [*_collision(row), *_in_trial(row, stops, told_by_row)])
    return (*of_lines, *_of_whole_days(case))


def _of_whole_days(case: Case) -> Iterator[Overruled]:
    """Days all of whose attempts are done though a line of the whole day counts a collision: it takes its attempts from
    the largest of their totals."""
    for block in blocks(case.tried):
        tasks = [row for row in block.rows if isinstance(row, DayTotal) and not row.of_whole_day]
        n = sum(why[0][1] for row in block.rows if of_whole_day(row) and (why := _collision(row)))
        if n and tasks and all(map(_all_done, tasks)):
            largest = max(tasks, key=lambda total: total.done)
            yield Overruled(largest, ("a collision",), min(largest.done, n))


def overruled_tries(case: Case) -> tuple[Overruled, ...]:
    """The same of the tries of training."""
    return tuple(_against(case.sessions, lambda row: [*_collision(row), *_in_training(row)]))


def help_is_recorded(case: Case) -> bool:
    """Whether any attempt of the trial records help by hand, that there was none too; else what counts as done leaves
    help open."""
    return any(getattr(row, column) is not None for row in case.tried for column in _BY_HAND)


def done_is_open(case: Case) -> bool:
    """Whether done stands for what nobody has said: in a row it is defined on the sheet, in a total by `done_rule`."""
    return case.trial.done_rule is None and bool(case.totals)


def helped_somewhere(case: Case) -> tuple[tuple[Tried, ...], ...]:
    """Blocks in which every row is done and help by hand is counted once for all: which row had it is not recorded."""
    return tuple(
        block.rows
        for block in blocks(of_tasks(case.tried))
        if all(row.n_done == row.n_attempts for row in block.rows)
        and any(
            0 < _n_filled(block.rows, column) < len(block.rows) and _some(block.rows, column) for column in _BY_HAND
        )
    )


def counted(case: Case) -> Case:
    """The case with each row counted as the rule of the case says; the very same case where that changes none."""
    if case.trial.done_rule == "task_rule":
        return case
    against = overruled(case)
    if lines := {*lines_of(entry.row for entry in against)}:
        case = case.with_records(_without(case.records, lines))
    if less := {entry.row: entry.n for entry in against if isinstance(entry.row, DayTotal)}:
        case = case.with_totals(tuple(replace(total, done=total.done - less.get(total, 0)) for total in case.totals))
    lines = {entry.row.line for entry in overruled_tries(case)}
    return case.with_sessions(_without(case.sessions, lines)) if lines else case


def facts(case: Case) -> Iterator[Fact]:
    """done_recorded.<method> and done_strict.<method> of each method whose rows differ; since.done_recorded and
    since.done_strict of training."""
    of_trial = overruled(case)
    rows_of = by_method(case.tried)
    for method in case.trial.methods:
        if against := [entry for entry in of_trial if _is_with(method.id, entry.row)]:
            names = (f"done_recorded.{method.id}", f"done_strict.{method.id}")
            yield from _both(names, method.name, against, *tally(rows_of[method.id]))
    if tries := overruled_tries(case):
        k, n = sum(row.success for row in case.sessions), len(case.sessions)
        yield from _both(("since.done_recorded", "since.done_strict"), "tries of training", tries, k, n)


def _is_with(method: str, row: Tried | SessionRow) -> bool:
    return not isinstance(row, SessionRow) and row.method == method


_BY_HAND = ("prompts_physical", "took_over")


Reason = tuple[str, int]  # in a few words, and how often it was counted


def _against(rows: Iterable[_AnyTried], reasons: Callable[[_AnyTried], list[Reason]]) -> Iterator[Overruled]:
    for row in rows:
        if _all_done(row) and (why := reasons(row)):
            n = min(row.done, sum(n for _, n in why)) if isinstance(row, DayTotal) else 1
            yield Overruled(row, tuple(words for words, _ in why), n)


def _all_done(row: Tried | SessionRow) -> bool:
    """Whether nothing is left undone that could have held what speaks against done."""
    return 0 < row.n_attempts == row.n_done if isinstance(row, DayTotal) else row.success


def _collision(row: Tried | SessionRow) -> list[Reason]:
    n = row.contacts or row.person_contacts
    return [("a collision", n)] if n else []


def _in_trial(row: Tried, stops: Collection[str], told_by_row: Collection[tuple[date, str, str]]) -> Iterator[Reason]:
    """Reasons of the trial alone; help by hand counts where it is written for each attempt, and not once for the
    block."""
    by_hand = sum(getattr(row, c) or 0 for c in _BY_HAND if (row.date, row.method, c) in told_by_row)
    if by_hand:
        yield "help by hand", by_hand
    if row.task in stops and row.missed:
        yield "a missed stop", row.missed


def _in_training(row: SessionRow) -> list[Reason]:
    return [("help by hand", 1)] if (row.help or 0) >= LEAST_BY_HAND else []


def _n_filled(rows: Sequence[Tried], column: str) -> int:
    return sum(getattr(row, column) is not None for row in rows)


def _some(rows: Sequence[Tried], column: str) -> bool:
    return any(getattr(row, column) for row in rows)


def _without(rows: Sequence[_AnyRow], lines: Collection[int]) -> tuple[_AnyRow, ...]:
    return tuple(replace(row, success=False) if row.line in lines else row for row in rows)


def _both(names: tuple[str, str], label: str, against: Sequence[Overruled], as_written: int, n: int) -> Iterator[Fact]:
    """Both counts of n attempts, some of which are written down as done against the definition."""
    rows, less = [entry.row for entry in against], sum(entry.n for entry in against)
    for name, words, k in (
        (names[0], "written down as done", as_written),
        (
            names[1],
            "done without collision, help by hand or missed stop",
            as_written - less,
        ),
    ):
        yield share_of(
            name,
            "driving",
            f"{words}, {label}",
            k,
            n,
            _FORMULA,
            rows=lines_of(rows),
            totals=total_lines(rows),
            source=_SOURCE,
        )
