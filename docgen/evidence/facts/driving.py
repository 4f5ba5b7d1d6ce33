"""Attempts done, per method and per task, and over how many days."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.evidence.blocks import by_method, lines
from docgen.evidence.fact import Fact
from docgen.evidence.proportion import wilson_interval

ORDER = 30
QUESTION = "Can the client drive with it?"
_FORMULA = "attempts done / attempts; Wilson score interval"
_SOURCE = "Wilson 1927; method 3 of Newcombe 1998, Stat Med 17:857-872"


def facts(case: Case) -> Iterator[Fact]:
    """success.<method>, success.<method>.<task>, days.<method> and attempts.<method>."""
    names = {method.id: method.name for method in case.trial.methods}
    tasks = {task.id: task.name for task in case.trial.tasks}
    rows_of = by_method(case.records)
    for method, name in names.items():
        rows = rows_of.get(method, ())
        if not rows:
            continue
        yield share(f"success.{method}", "driving", f"attempts done, {name}, all tasks", rows)
        for task, task_name in tasks.items():
            if of_task := tuple(row for row in rows if row.task == task):
                yield share(f"success.{method}.{task}", "driving", f"attempts done, {name}, {task_name}", of_task)
        days = {row.date for row in rows}
        yield Fact(
            f"days.{method}",
            "driving",
            f"days with {name}",
            "count",
            len(days),
            n=len(rows),
            k=len(days),
            rows=lines(rows),
            formula="different dates",
        )
        yield Fact(
            f"attempts.{method}",
            "driving",
            f"attempts with {name}",
            "count",
            len(rows),
            n=len(rows),
            k=len(rows),
            rows=lines(rows),
            formula="rows",
            listed=False,
        )


def share(fact_id: str, question: str, label: str, rows: tuple[Row, ...]) -> Fact:
    """Attempts done among these rows, with the score interval."""
    k = sum(row.success for row in rows)
    interval = wilson_interval(k, len(rows))
    return Fact(
        fact_id,
        question,
        label,
        "proportion",
        interval.share,
        len(rows),
        k,
        interval.low,
        interval.high,
        rows=lines(rows),
        formula=_FORMULA,
        source=_SOURCE,
    )
