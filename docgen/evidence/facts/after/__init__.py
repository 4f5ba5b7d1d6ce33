"""Training after delivery: how much of it, how it went, what it changed since the trial, and which stop rules it
met."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.evidence.blocks import lines, recorded, tally, total
from docgen.evidence.difference import NEWCOMBE, newcombe_interval
from docgen.evidence.fact import Fact
from docgen.evidence.facts.after.incidents import facts_of_incidents
from docgen.evidence.facts.after.of_rows import FILE, count
from docgen.evidence.facts.after.steps import facts_by_step, facts_of_stages
from docgen.evidence.facts.after.windows import WEEKS, window_facts
from docgen.evidence.goals import t_score
from docgen.evidence.training import at_stage_now, by_day, windows

ORDER = 90
QUESTION = "What has training after delivery shown?"


def facts(case: Case) -> Iterator[Fact]:
    """since.<what>, since.<what>_first, _last and _now, stage_reached, judged.<n>, and the goals' score then and
    now."""
    yield from _goals(case)
    rows = case.sessions
    if not rows:
        return
    yield from _amount(rows)
    parts = {"": rows} | {f"_{name}": part for name, part in windows(rows).items()} | {"_now": at_stage_now(case)}
    for suffix, part in parts.items():
        if part:
            yield from window_facts(suffix, part, case)
    yield from facts_by_step(case, rows)
    yield from _change(case, parts.get("_last", rows), f"last {WEEKS}" if "_last" in parts else "training")
    yield from facts_of_incidents(case, rows)
    yield from facts_of_stages(case)


def _amount(rows: Sequence[SessionRow]) -> Iterator[Fact]:
    """How much training there was."""
    sessions = by_day(rows)
    for what, label, k, formula in (
        ("sessions", "sessions", len(sessions), "days with a row"),
        ("tries", "attempts", len(rows), "rows"),
    ):
        yield count(f"since.{what}", f"{label} since delivery", k, len(rows), lines(rows), formula)
    minutes = [amount for _, group in sessions if (amount := total(group, "minutes")) is not None]
    if minutes:
        yield Fact(
            "since.minutes",
            "after",
            "minutes of sessions",
            "minutes",
            sum(minutes),
            len(sessions),
            rows=lines(recorded(rows, "minutes")),
            keys=FILE,
            formula="sum of the minutes recorded",
        )


def _change(case: Case, rows: Sequence[SessionRow], where: str) -> Iterator[Fact]:
    """Share of tries done now, less the share done in the trial with the same control; the tasks have become harder
    since."""
    trial = [tried for tried in case.tried if tried.method == case.configuration.method]
    if not trial or not rows:
        return
    now = sum(row.success for row in rows)
    then, n_then = tally(trial)
    apart = newcombe_interval(now, len(rows), then, n_then)
    yield Fact(
        "since.change",
        "after",
        f"successful attempts, {where} minus trial",
        "difference",
        apart.difference,
        len(rows) + n_then,
        None,
        apart.low,
        apart.high,
        rows=lines(rows),
        keys=(*FILE, "configuration.method"),
        note=(
            f"{now} of {len(rows)} against {then} of {n_then} in the trial; the tasks are not the same, later "
            "steps are harder"
        ),
        formula="share done in training minus share done in the trial; hybrid score interval",
        source=NEWCOMBE,
    )


def _goals(case: Case) -> Iterator[Fact]:
    """The score of the goals that were reviewed, at the level first recorded and at the last one."""
    both = [
        (i, goal.weight, goal.level, latest.level)
        for i, goal in enumerate(case.goals)
        if goal.level is not None and (latest := goal.latest) is not None
    ]
    weights = [weight for _, weight, _, _ in both]
    if not any(weights):
        return
    for name, label, levels in (
        ("then", "at the start", [first for _, _, first, _ in both]),
        ("now", "at the last review", [last for _, _, _, last in both]),
    ):
        yield Fact(
            f"goals_t_{name}",
            "after",
            f"goals reviewed, T score {label}",
            "score",
            t_score(levels, weights),
            len(both),
            keys=tuple(f"goals.{i}" for i, *_ in both),
            note="50 is all as expected",
            formula="50 + 10 sum(w x) / sqrt(0.7 sum(w^2) + 0.3 (sum w)^2)",
            source="Kiresuk and Sherman 1968, Community Ment Health J 4:443-453, in the corrected form",
        )
