"""Each session by itself (one method on one day, and each of its tasks), and the time that attempts took."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.evidence.blocks import Block, blocks, by_method, exposure, lines, recorded
from docgen.evidence.fact import RATES, Fact
from docgen.evidence.facts.driving import share
from docgen.evidence.facts.safely import rate_fact
from docgen.evidence.median_of import median_of

ORDER = 80
QUESTION = "What did each session show?"


def facts(case: Case) -> Iterator[Fact]:
    """session.<method>.<date>.<what> for each session, time.<method> and time.<method>.<task> overall."""
    names = {method.id: method.name for method in case.trial.methods}
    tasks = {task.id: task.name for task in case.trial.tasks}
    for block in blocks(case.tried):
        if block.method in names:
            yield from _session(block, names[block.method], tasks)
    rows_of = by_method(case.records)
    for method, name in names.items():
        rows = rows_of.get(method, ())
        yield from _time(f"time.{method}", f"time of an attempt done, {name}", rows)
        for task, task_name in tasks.items():
            yield from _time(
                f"time.{method}.{task}",
                f"time of an attempt done, {name}, {task_name}",
                [row for row in rows if row.task == task],
            )


def _session(block: Block, name: str, tasks: dict[str, str]) -> Iterator[Fact]:
    at, where = f"session.{block.method}.{block.on}", f"{name}, {block.on}"
    yield share(f"{at}.success", "sessions", f"successful attempts, {where}", block.rows)
    for task, task_name in tasks.items():
        if rows := tuple(row for row in block.rows if row.task == task):
            of_task = share(f"{at}.success.{task}", "sessions", f"successful attempts, {where}, {task_name}", rows)
            yield replace(of_task, listed=False)
    for events, amount, kind, per in RATES:
        counted = exposure(block.rows, events, amount)
        if counted is not None:
            label = f"{events.replace('unintended', 'unintended activations')}, {where}"
            yield rate_fact(f"{at}.{events}", "sessions", label, kind, counted, amount, per)
    rows_alone = [row for row in block.rows if isinstance(row, Row)]  # totals have no time of each attempt
    for column, label in (("release_s", "release"), ("hold_s", "shortest touch")):
        yield from _median(
            f"{at}.{column.removesuffix('_s')}", f"{label}, {where}", column, recorded(rows_alone, column)
        )


def _time(fact_id: str, label: str, rows: Sequence[Row]) -> Iterator[Fact]:
    yield from _median(fact_id, label, "seconds", [row for row in recorded(rows, "seconds") if row.success])


def _median(fact_id: str, label: str, column: str, rows: Sequence[Row]) -> Iterator[Fact]:
    if not rows:
        return
    seconds = [getattr(row, column) for row in rows]
    yield median_of(fact_id, "sessions", label, seconds, "median", rows=lines(rows))
