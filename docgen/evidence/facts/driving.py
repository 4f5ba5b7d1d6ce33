"""Successful attempts, per method and per task, and over how many days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from docgen.case.model import Case
from docgen.case.totals import DayTotal, Tried
from docgen.evidence.blocks import by_method, lines, n_attempts, tally, total_lines
from docgen.evidence.fact import Fact
from docgen.evidence.share import share_of

ORDER = 30
QUESTION = "Can the client drive with it?"
_FORMULA = "successful attempts / attempts; Wilson score interval"


def facts(case: Case) -> Iterator[Fact]:
    """success.<method>, success.<method>.<task>, days.<method>, attempts.<method>; success_until.<method> and
    success_since.<method> where it was changed during the trial; from_totals.<method> where there are totals."""
    changed_on = {method.id: method.changed_on for method in case.trial.methods}
    names = {method.id: method.name for method in case.trial.methods}
    tasks = {task.id: task.name for task in case.trial.tasks}
    rows_of = by_method(case.tried)
    for method, name in names.items():
        rows = rows_of.get(method, ())
        if not rows:
            continue
        yield share(f"success.{method}", "driving", f"successful attempts, {name}, all tasks", rows)
        for task, task_name in tasks.items():
            if of_task := tuple(row for row in rows if row.task == task):
                yield share(f"success.{method}.{task}", "driving", f"successful attempts, {name}, {task_name}", of_task)
        yield from _before_and_since(changed_on.get(method), method, name, rows)
        days = {row.date for row in rows}
        yield Fact(
            f"days.{method}",
            "driving",
            f"days with {name}",
            "count",
            len(days),
            n=n_attempts(rows),
            k=len(days),
            rows=lines(rows),
            totals=total_lines(rows),
            formula="different dates",
        )
        yield Fact(
            f"attempts.{method}",
            "driving",
            f"attempts with {name}",
            "count",
            n_attempts(rows),
            n=n_attempts(rows),
            k=n_attempts(rows),
            rows=lines(rows),
            totals=total_lines(rows),
            formula="rows, and the attempts of day totals",
            listed=False,
        )
        if totals := tuple(row for row in rows if isinstance(row, DayTotal)):
            yield _from_totals(method, name, totals, n_attempts(rows))


def _before_and_since(on: date | None, method: str, name: str, rows: Sequence[Tried]) -> Iterator[Fact]:
    """success_until.<method> and success_since.<method>: the days before a change of the control and those with it;
    nothing where it was not changed, or one of the two has no attempt."""
    until = [row for row in rows if on is not None and row.date < on]
    since = [row for row in rows if on is not None and row.date >= on]
    if until and since:
        yield share(f"success_until.{method}", "driving", f"successful attempts, {name}, before it was changed", until)
        yield share(f"success_since.{method}", "driving", f"successful attempts, {name}, since it was changed", since)


def _from_totals(method: str, name: str, totals: tuple[DayTotal, ...], n: int) -> Fact:
    """Which attempts are known as totals alone, and what nobody can tell of them."""
    at, k, lacking = total_lines(totals), n_attempts(totals), "no time of an attempt and no shortest touch"
    if any(total.slowest_release_s is not None and not total.releases_s for total in totals):
        lacking += ", of releases only the slowest of a day"
    return Fact(
        f"from_totals.{method}",
        "driving",
        f"known as day totals, {name}",
        "words",
        None,
        k,
        totals=at,
        text=f"{'all ' if k == n else ''}{k}{'' if k == n else f' of the {n}'} attempts",
        note=f"from totals: {lacking}; their order is not known, so no change within a day",
        formula="attempts of day totals",
    )


def share(
    fact_id: str, question: str, label: str, rows: Sequence[Tried], counts: tuple[int, int] | None = None
) -> Fact:
    """Successful attempts among these rows and totals, with the score interval.

    counts  how many of how many, where it is something else of them than their attempts
    """
    k, n = tally(rows) if counts is None else counts
    return share_of(fact_id, question, label, k, n, _FORMULA, rows=lines(rows), totals=total_lines(rows))
