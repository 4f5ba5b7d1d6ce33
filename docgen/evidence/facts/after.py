"""Training after delivery: how much of it, how it went, what it changed since the trial, and which stop rules it
met."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.case.stage import step_words
from docgen.evidence.blocks import exposure_in, lines, recorded, tally, total
from docgen.evidence.difference import newcombe_interval
from docgen.evidence.fact import RATES, Fact
from docgen.evidence.goals import t_score
from docgen.evidence.proportion import wilson_interval
from docgen.evidence.rate import garwood_interval
from docgen.evidence.stages import Judged
from docgen.evidence.training import WINDOW_DAYS, at_stage_now, by_day, stop_tasks, stops_met, walked, windows

ORDER = 90
QUESTION = "What has training after delivery shown?"
_FILE = ("sessions.csv",)  # the rows of these facts are its lines
_SCALES = {"fatigue": "tiredness, 0 to 10", "tone": "muscle tone, clinic's own 0 to 4 rating", "pain": "pain, 0 to 10"}
_WEEKS = f"{WINDOW_DAYS / 7:g} weeks"
_WINDOWS = {
    "": "training",
    "_first": f"first {_WEEKS} of training",
    "_last": f"last {_WEEKS} of training",
    "_now": "at the stage reached",
}
_WILSON = "Wilson 1927; method 3 of Newcombe 1998, Stat Med 17:857-872"
_TURNS = ("corner", "left", "right")
_WALD = "Wald 1945, Ann Math Stat 16:117-186 (formulas from memory); stages are common practice, no source"


def facts(case: Case) -> Iterator[Fact]:
    """since.<what>, since.<what>_first, _last and _now, stage_reached, judged.<n>, and the goals' score then and
    now."""
    yield from _goals(case)
    rows = case.sessions
    if not rows:
        return
    sessions = by_day(rows)
    yield _count("sessions", "sessions", len(sessions), rows, "days with a row")
    yield _count("tries", "attempts", len(rows), rows, "rows")
    if (minutes := _minutes(sessions)) is not None:
        yield Fact(
            "since.minutes",
            "after",
            "minutes of lessons",
            "minutes",
            minutes,
            len(sessions),
            rows=lines(recorded(rows, "minutes")),
            keys=_FILE,
            formula="sum of the minutes recorded",
        )
    parts = {"": rows} | {f"_{name}": part for name, part in windows(rows).items()} | {"_now": at_stage_now(case)}
    for suffix, part in parts.items():
        if part:
            yield from _window(suffix, part, case)
            yield from _rises(suffix, part)
    yield from _by_stage(case, rows)
    yield from _change(case, parts.get("_last", rows), f"last {_WEEKS}" if "_last" in parts else "training")
    yield from _events(case, rows)
    yield from _stages(case)


def _count(what: str, label: str, value: float, rows: Sequence[SessionRow], formula: str) -> Fact:
    return Fact(
        f"since.{what}",
        "after",
        f"{label} since delivery",
        "count",
        value,
        len(rows),
        value,
        rows=lines(rows),
        keys=_FILE,
        formula=formula,
    )


def _minutes(sessions: Sequence[tuple[object, Sequence[SessionRow]]]) -> float | None:
    amounts = [amount for _, group in sessions if (amount := total(group, "minutes")) is not None]
    return sum(amounts) if amounts else None


def _window(suffix: str, rows: Sequence[SessionRow], case: Case) -> Iterator[Fact]:
    yield from _shares(suffix, rows, case)
    yield from _rates(suffix, rows)
    yield from _slowest_release(suffix, rows)


def _shares(suffix: str, rows: Sequence[SessionRow], case: Case) -> Iterator[Fact]:
    where = _WINDOWS[suffix]
    halts = stop_tasks(case)
    turns = {*_TURNS, *(space.id for space in case.spaces if space.kind in ("doorway", "turning", "corridor"))}
    driven = [row for row in rows if row.task not in halts]
    rung, touched = recorded(rows, "help"), recorded(rows, "missed")
    for name, label, of, counted in (
        ("success", "attempts done", rows, _done(rows)),
        ("driving", "attempts at driving done", driven, _done(driven)),
        (
            "stops",
            "stops done",
            stops := [row for row in rows if row.task in halts],
            _done(stops),
        ),
        (
            "turns",
            "corners, doors and aisles done",
            turned := [row for row in rows if row.task in turns],
            _done(turned),
        ),
        ("unaided", "attempts done independently", rung, [row for row in rung if row.success and row.help == 0]),
        ("missed", "attempts with a touch that did nothing", touched, [row for row in touched if row.missed]),
    ):
        if of:
            interval = wilson_interval(len(counted), len(of))
            yield Fact(
                f"since.{name}{suffix}",
                "after",
                f"{label}, {where}",
                "proportion",
                interval.share,
                len(of),
                len(counted),
                interval.low,
                interval.high,
                rows=lines(of),
                keys=_FILE,
                formula=f"{label} / attempts that record it; Wilson score interval",
                source=_WILSON,
            )


def _done(rows: Sequence[SessionRow]) -> list[SessionRow]:
    return [row for row in rows if row.success]


def _rates(suffix: str, rows: Sequence[SessionRow]) -> Iterator[Fact]:
    where = _WINDOWS[suffix]
    groups = [group for _, group in by_day(rows)]
    for events, amount, kind, per in RATES:
        if counts := exposure_in(groups, events, amount):
            rate = garwood_interval(counts.n_events, counts.amount, per)
            yield Fact(
                f"since.{events}{suffix}",
                "after",
                f"{'collisions' if events == 'contacts' else 'unintended activations'}, {where}",
                kind,
                rate.rate,
                len(counts.rows),
                counts.n_events,
                rate.low,
                rate.high,
                rows=lines(counts.rows),
                keys=_FILE,
                formula=f"events / {amount} x {per:g}; exact Poisson interval",
                source="Garwood 1936, Biometrika 28:437-442",
            )


def _slowest_release(suffix: str, rows: Sequence[SessionRow]) -> Iterator[Fact]:
    where = _WINDOWS[suffix]
    if timed := recorded(rows, "release_s"):
        slowest = max(timed, key=lambda row: row.release_s or 0)
        yield Fact(
            f"since.release_slowest{suffix}",
            "after",
            f"slowest release, {where}",
            "seconds",
            slowest.release_s,
            len(timed),
            rows=(slowest.line,),
            keys=_FILE,
            formula="largest release_s",
        )


def _by_stage(case: Case, rows: Sequence[SessionRow]) -> Iterator[Fact]:
    """stage.<n>.days, driving, stops and contacts."""
    halts = stop_tasks(case)
    for stage in sorted({row.stage for row in rows}):
        here = [row for row in rows if row.stage == stage]
        n_days = len({row.date for row in here})
        yield Fact(
            f"stage.{stage}.days",
            "after",
            f"days at the step {step_words(stage)}",
            "count",
            n_days,
            n_days,
            n_days,
            rows=lines(here),
            keys=_FILE,
            formula="different dates",
        )
        for name, label, of in (
            ("driving", "attempts at driving done", [row for row in here if row.task not in halts]),
            ("stops", "stops done", [row for row in here if row.task in halts]),
        ):
            if of:
                reached = wilson_interval(sum(row.success for row in of), len(of))
                yield Fact(
                    f"stage.{stage}.{name}",
                    "after",
                    f"{label}, step {step_words(stage)}",
                    "proportion",
                    reached.share,
                    len(of),
                    sum(row.success for row in of),
                    reached.low,
                    reached.high,
                    rows=lines(of),
                    keys=_FILE,
                    formula="done / attempts; Wilson score interval",
                    source=_WILSON,
                )
        if counted := recorded(here, "contacts"):
            n = sum(row.contacts or 0 for row in counted)
            yield Fact(
                f"stage.{stage}.contacts",
                "after",
                f"collisions at the step {step_words(stage)}",
                "count",
                n,
                len(counted),
                n,
                rows=lines(counted),
                keys=_FILE,
                formula="sum over the attempts that record it",
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
        f"attempts done, {where} less trial",
        "difference",
        apart.difference,
        len(rows) + n_then,
        None,
        apart.low,
        apart.high,
        rows=lines(rows),
        keys=(*_FILE, "configuration.method"),
        note=(
            f"{now} of {len(rows)} against {then} of {n_then} in the trial; the tasks are not the same, later "
            "steps are harder"
        ),
        formula="share done in training, less share done in the trial; hybrid score interval",
        source="Newcombe 1998, Stat Med 17:873-890, method 10",
    )


def _events(case: Case, rows: Sequence[SessionRow]) -> Iterator[Fact]:
    for column, label in (
        ("contacts", "collisions"),
        ("person_contacts", "collisions with a person"),
        ("near_misses", "near misses"),
    ):
        if counted := recorded(rows, column):
            n = sum(getattr(row, column) for row in counted)
            yield Fact(
                f"since.n_{column}",
                "after",
                f"{label} since delivery",
                "count",
                n,
                len(counted),
                n,
                rows=lines(counted),
                keys=_FILE,
                formula="sum over the attempts that record it",
                note="" if len(counted) == len(rows) else f"{len(rows) - len(counted)} attempts do not record it",
            )
    for suffix, part in (("", rows), ("_now", at_stage_now(case))):
        for column, label in (
            ("contacts", "collisions"),
            ("unintended", "unintended activations"),
            ("missed", "touches that did nothing"),
        ):
            counted = recorded(part, column)
            if counted and (suffix or column != "contacts"):
                n = sum(getattr(row, column) for row in counted)
                yield Fact(
                    f"since.n_{column}{suffix}",
                    "after",
                    f"{label}, {_WINDOWS[suffix]}",
                    "count",
                    n,
                    len(counted),
                    n,
                    rows=lines(counted),
                    keys=_FILE,
                    formula="sum over the attempts that record it",
                )
    met = stops_met(case)
    went_on = [stopped for stopped in met if stopped.went_on is not None]
    yield Fact(
        "since.stops_met",
        "after",
        "stop rules met since delivery",
        "count",
        len(met),
        len(rows),
        len(met),
        rows=tuple(stopped.line for stopped in met),
        keys=_FILE,
        formula=(
            "injury, collision with a person, two stops missed in a session, pain over 4 or up by 2, stiffness up "
            "by 2, tiredness 8, a skin mark"
        ),
        source="common practice, no source",
    )
    yield Fact(
        "since.stops_broken",
        "after",
        "stop rules after which driving went on without clearance",
        "count",
        len(went_on),
        len(met),
        len(went_on),
        rows=tuple(stopped.went_on or 0 for stopped in went_on),
        keys=_FILE,
        formula="an attempt follows before cleared_by is filled",
        source="common practice, no source",
    )


def _rises(suffix: str, rows: Sequence[SessionRow]) -> Iterator[Fact]:
    for scale, label in _SCALES.items():
        reached = []
        for _, group in by_day(rows):
            before, after = recorded(group, f"{scale}_before"), recorded(group, f"{scale}_after")
            if before and after:
                reached.append(
                    (
                        getattr(after[-1], f"{scale}_after") - getattr(before[0], f"{scale}_before"),
                        (before[0].line, after[-1].line),
                    )
                )
        if reached:
            largest, at = max(reached)
            yield Fact(
                f"since.{scale}_rise{suffix}",
                "after",
                f"largest rise of {label}, in a session, {_WINDOWS[suffix]}",
                "score",
                largest,
                len(reached),
                rows=tuple(dict.fromkeys(at)),
                keys=_FILE,
                formula="after - before, largest of the sessions that record both",
            )


def _stages(case: Case) -> Iterator[Fact]:
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
        keys=(*_FILE, "training.stage", "training.mastery"),
        formula="stages passed one after another; a task not yet there goes back one",
        source=_WALD,
    )
    for place, judged in enumerate((*reached.ended, *reached.still_open)):
        yield _judged(place, judged)
    alone = {row.line for row in case.sessions if row.success and row.help == 0}
    untold = {row.line for row in case.sessions if row.success and row.help is None}
    for judged in reached.still_open:
        if judged.stage == reached.stage:
            n_alone = sum(line in alone for line in judged.lines)
            for name, label, k in (("open", "done", judged.n_success), ("open_unaided", "done with no help", n_alone)):
                if name == "open_unaided" and not untold.isdisjoint(judged.lines):
                    continue  # whether it was helped is not recorded of each
                share = wilson_interval(k, judged.n)
                yield Fact(
                    f"{name}.{judged.task}",
                    "after",
                    f"{judged.task.replace('_', ' ')} at the step {step_words(judged.stage)}, still open: {label}",
                    "proportion",
                    share.share,
                    judged.n,
                    k,
                    share.low,
                    share.high,
                    rows=judged.lines,
                    keys=_FILE,
                    formula=f"attempts {label} / attempts; Wilson score interval",
                    source=_WILSON,
                )


def _judged(place: int, judged: Judged) -> Fact:
    interval = wilson_interval(judged.n_success, judged.n)
    return Fact(
        f"judged.{place}",
        "after",
        f"step {step_words(judged.stage)}, {judged.task.replace('_', ' ')}, until {judged.on}",
        "proportion",
        interval.share,
        judged.n,
        judged.n_success,
        interval.low,
        interval.high,
        rows=judged.lines,
        keys=(*_FILE, "training.mastery"),
        formula=(
            "Wald's sequential test of one series of attempts, looked at as the table says; stops need so many in a row"
        ),
        source=_WALD,
        note=(
            f"{judged.answer.replace('_', ' ')}; the series ended at its first answer, so the interval is for "
            "orientation only"
        ),
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
