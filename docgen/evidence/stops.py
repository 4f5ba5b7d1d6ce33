"""Stops on request among rows and day totals: tries of a task that is a stop, and those a total counts apart."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from datetime import date
from typing import TypeVar

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.case.totals import NO_LINE, DayTotal, Tried
from docgen.case.tried import Method
from docgen.evidence.blocks import tally

NO_DAY = date.max
AnyTried = TypeVar("AnyTried", bound=Tried | SessionRow)


class Stops(Struct, frozen=True):
    """Stops asked for and made, and the rows and totals that hold them."""

    n_made: int
    n_asked: int
    rows: tuple[Tried, ...]

    @property
    def missed(self) -> tuple[tuple[Tried, int, int], ...]:
        """Rows and totals with a stop that was not made, each with how many were made, of how many."""
        counted = ((row, *_counted(row)) for row in self.rows)
        return tuple((row, n_made, n_asked) for row, n_made, n_asked in counted if n_made < n_asked)


def stops_on_request(case: Case, rows: Sequence[Tried]) -> Stops:
    """The stops on command among these rows and totals."""
    holding = tuple(with_stops(rows, case.trial.stop_tasks))
    counts = [_counted(row) for row in holding]
    return Stops(sum(done for done, _ in counts), sum(n for _, n in counts), holding)


def beside_rows(method: Method) -> tuple[DayTotal, ...]:
    """The stops of a method that were counted in none of the attempts, as a total that is on no line of a file; nothing
    where no number of them is recorded. Where their day is not, it is `NO_DAY`, after which nothing is known."""
    if method.stops_asked is None or method.stops_made is None:
        return ()
    return (
        DayTotal(
            line=NO_LINE,
            date=method.stops_on or NO_DAY,
            method=method.id,
            task="",
            attempts=0,
            done=0,
            stops_asked=method.stops_asked,
            stops_made=method.stops_made,
            note=method.stops_say,
        ),
    )


def with_stops(rows: Iterable[AnyTried], stop_tasks: Collection[str]) -> Iterator[AnyTried]:
    """Rows of a task that is a stop, and totals that count stops apart."""
    for row in rows:
        if row.task in stop_tasks or (isinstance(row, DayTotal) and row.stops_asked is not None):
            yield row


def _counted(row: Tried) -> tuple[int, int]:
    """Stops made and asked for in one row or total. A total of a stopping task has none apart: reading refuses it."""
    if isinstance(row, DayTotal) and row.stops_asked is not None and row.stops_made is not None:
        return row.stops_made, row.stops_asked
    return tally([row])
