"""The steps of training: what was done at each, which one is reached, how each task was judged."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.case.stage import step_words
from docgen.evidence.blocks import lines
from docgen.evidence.fact import Fact
from docgen.evidence.facts.after.of_rows import FILE, count, share, sum_of
from docgen.evidence.stages import Judged
from docgen.evidence.training import stop_tasks, walked

_WALD = "Wald 1945, Ann Math Stat 16:117-186 (formulas from memory); stages are common practice, no source"


def facts_by_step(case: Case, rows: Sequence[SessionRow]) -> Iterator[Fact]:
    """stage.<n>.days, driving, stops and contacts."""
    halts = stop_tasks(case)
    for stage in sorted({row.stage for row in rows}):
        here = [row for row in rows if row.stage == stage]
        n_days = len({row.date for row in here})
        at_step = f"at the step {step_words(stage)}"
        yield count(f"stage.{stage}.days", f"days {at_step}", n_days, n_days, lines(here), "different dates")
        for name, label, of in (
            ("driving", "attempts at driving done", [row for row in here if row.task not in halts]),
            ("stops", "stops done", [row for row in here if row.task in halts]),
        ):
            if of:
                yield share(
                    f"stage.{stage}.{name}",
                    f"{label}, step {step_words(stage)}",
                    sum(row.success for row in of),
                    len(of),
                    lines(of),
                    "done / attempts; Wilson score interval",
                )
        yield from sum_of("contacts", here, f"stage.{stage}.contacts", f"collisions {at_step}")


def facts_of_stages(case: Case) -> Iterator[Fact]:
    """stage_reached, judged.<n>, and open.<task> and open_unaided.<task> of what is still open at that stage."""
    reached = walked(case)
    if reached is None:
        return
    yield Fact(
        "stage_reached",
        "after",
        "stage of training reached",
        "count",
        reached.stage,
        len(case.sessions),
        reached.stage,
        rows=lines(case.sessions),
        keys=(*FILE, "training.stage", "training.mastery"),
        formula="stages passed one after another; a task not yet there goes back one",
        source=_WALD,
    )
    for place, judged in enumerate((*reached.ended, *reached.still_open)):
        yield _judged(place, judged)
    for judged in reached.still_open:
        if judged.stage == reached.stage:
            yield from _still_open(case, judged)


def _still_open(case: Case, judged: Judged) -> Iterator[Fact]:
    alone = {row.line for row in case.sessions if row.success and row.help == 0}
    untold = {row.line for row in case.sessions if row.success and row.help is None}
    n_alone = sum(line in alone for line in judged.lines)
    for name, label, k in (("open", "done", judged.n_success), ("open_unaided", "done with no help", n_alone)):
        if name == "open_unaided" and not untold.isdisjoint(judged.lines):
            continue  # whether it was helped is not recorded of each
        yield share(
            f"{name}.{judged.task}",
            f"{judged.task.replace('_', ' ')} at the step {step_words(judged.stage)}, still open: {label}",
            k,
            judged.n,
            judged.lines,
            f"attempts {label} / attempts; Wilson score interval",
        )


def _judged(place: int, judged: Judged) -> Fact:
    return share(
        f"judged.{place}",
        f"step {step_words(judged.stage)}, {judged.task.replace('_', ' ')}, until {judged.on}",
        judged.n_success,
        judged.n,
        judged.lines,
        "Wald's sequential test of one series of attempts, looked at as the table says; stops need so many in a row",
        keys=(*FILE, "training.mastery"),
        source=_WALD,
        note=(
            f"{judged.answer.replace('_', ' ')}; the series ended at its first answer, so the interval is for "
            "orientation only"
        ),
    )
