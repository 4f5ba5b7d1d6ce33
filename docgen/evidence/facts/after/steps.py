"""The steps of training: what was done at each, which one is reached, how each task was judged."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.case.stage import step_words
from docgen.evidence.blocks import lines
from docgen.evidence.done import counted
from docgen.evidence.fact import Fact
from docgen.evidence.facts.after.of_rows import FILE, count, share, sum_of
from docgen.evidence.stages import Judged, Walk
from docgen.evidence.training import mark_of, stop_tasks, walked

_AT_FIRST_ANSWER = "the count ended at its first answer, so the interval is for orientation only"
_CHOICE = "rows of five and ten stops in a row are a choice, no source"


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
    """stage_reached, judged.<n>, open.<task> of what is still open at that step, since.uncounted, since.ahead and
    since.stops_counted."""
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
        keys=(*FILE, "training.stage"),
        formula="steps passed one after another; nothing is taken back by a count",
        source=_CHOICE,
    )
    for place, judged in enumerate((*reached.ended, *reached.still_open)):
        if judged.n:
            yield _judged(place, judged)
    for judged in reached.still_open:
        if judged.stage == reached.stage:
            yield _alone(f"open.{judged.task}", judged, "still open: done alone")
    yield from _not_counted(case, reached)


def _not_counted(case: Case, reached: Walk) -> Iterator[Fact]:
    """What counts for no step: tries of which something is not written, and those of steps that were not reached."""
    n = len(case.sessions)
    ahead = tuple(row.line for row in case.sessions if row.stage > reached.stage)
    for name, label, at in (
        (
            "uncounted",
            "attempts not counted, for their help or the surprise of a stop is not written",
            reached.uncounted,
        ),
        ("ahead", "attempts at steps beyond the one reached", ahead),
    ):
        if at:
            yield count(f"since.{name}", label, len(at), n, at, "rows", _CHOICE)
    halts = stop_tasks(case)
    marks = [(row, mark_of(row, True)) for row in counted(case).sessions if row.task in halts]
    of = [(row, mark) for row, mark in marks if mark in ("alone", "helped", "not")]
    if of:
        yield share(
            "since.stops_counted",
            "stops that came as a surprise, made alone",
            sum(mark == "alone" for _, mark in of),
            len(of),
            lines([row for row, _ in of]),
            "alone / counted stops; Wilson score interval",
        )
    yield count(
        "since.stops_in_a_row",
        "stops made alone since the last break",
        reached.since_break,
        len(of),
        (),
        "a row",
        _CHOICE,
    )


def _judged(place: int, judged: Judged) -> Fact:
    label = f"step {step_words(judged.stage)}, {judged.task.replace('_', ' ')}, until {judged.on}: done alone"
    return _alone(f"judged.{place}", judged, label, judged.answer.replace("_", " "))


def _alone(fact_id: str, judged: Judged, label: str, note: str = "") -> Fact:
    full_rows = f"rows {', '.join(map(str, judged.rows))}" if judged.rows else ""
    return share(
        fact_id,
        label if note else f"{judged.task.replace('_', ' ')} at the step {step_words(judged.stage)}, {label}",
        judged.n_alone,
        judged.n,
        judged.lines,
        "counted tries alone: the first five of a task each day, or stops by surprise",
        source=_CHOICE,
        note="; ".join(filter(None, (note, full_rows, _AT_FIRST_ANSWER))),
    )
