"""A small case by hand for the tests of facts: two controls, a task that is a stop and two that are none."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import Any

from docgen.case.model import Case
from docgen.case.read import frozen
from docgen.case.record import Row
from docgen.case.totals import DayTotal
from docgen.evidence.fact import Fact


def small_case(
    rows: Sequence[Row] = (), totals: Sequence[DayTotal] = (), asked: str | None = "a", **tables: Any
) -> Case:
    """Controls a and b, called pads and stick, of which `asked` is requested."""
    raw = {
        "format": "docgen case 1",
        "id": "x",
        "trial": {
            "methods": [{"id": "a", "name": "pads"}, {"id": "b", "name": "stick"}],
            "tasks": [
                {"id": "halt", "name": "halt", "shows": "stop"},
                {"id": "door", "name": "door"},
                {"id": "ramp", "name": "ramp"},
            ],
        },
        "configuration": {"method": asked} | tables.pop("configuration", {}),
    } | tables
    return Case.model_validate(frozen(raw)).with_records(tuple(rows)).with_totals(tuple(totals))


def attempt(line: int, method: str = "a", done: bool = True, task: str = "door", day: int = 3, **more: Any) -> Row:
    """One attempt on a day of March 2026."""
    return Row(line, date(2026, 3, day), method, task, done, **more)


def of_day(
    line: int, attempts: int, done: int, method: str = "a", task: str = "door", day: int = 3, **more: Any
) -> DayTotal:
    """The total of a day of March 2026."""
    return DayTotal(line, date(2026, 3, day), method, task, attempts, done, **more)


def known(facts: Callable[[Case], Iterable[Fact]], case: Case) -> dict[str, Fact]:
    """The facts of one module, by their names."""
    return {fact.id: fact for fact in facts(case)}
