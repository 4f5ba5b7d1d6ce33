"""Letting go and stopping: release times, missed stops, the distance at each profile, the speed for each space."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.model import Case
from docgen.case.need import Space
from docgen.case.record import Row
from docgen.case.tried import Method
from docgen.evidence.blocks import by_method, lines, recorded
from docgen.evidence.fact import Fact
from docgen.evidence.facts.driving import share
from docgen.evidence.release import ReleaseBound, release_bound, smallest_n
from docgen.evidence.stopping import fastest_speed_m_s, stopping_distance

ORDER = 10
QUESTION = "Can the client stop, and in the space there is?"
SPEED_STEP_M_S = (
    0.05  # speeds are rounded down to this step unless the chair's own is recorded: common practice, no source
)
_STOPPING = "v (release + delay) + v^2 / (2 x deceleration)"
_CHAIR = ("configuration.chair.electronics_delay_s", "configuration.chair.deceleration_m_s2")
_UNIFORM = "uniform deceleration; the release used is the slower of the bound and the slowest seen"
_BOUND = "upper tolerance bound: 95% of releases stay under it, with 95% confidence"
_BOUND_SOURCE = "noncentral t on logs, or order statistics (Wilks 1941, from memory)"


def facts(case: Case) -> Iterator[Fact]:
    """stop_request, stops_missed, release_slowest of each method; release of the one asked for; stopping, safe_speed, stopping_with."""
    stop_tasks = {task.id for task in case.trial.tasks if task.shows == "stop"}
    rows_of = by_method(case.records)
    latched = case.configuration.is_latched
    for method in case.trial.methods:
        rows = rows_of.get(method.id, ())
        asked = method.id == case.configuration.method
        if rows:
            yield from _requests(method, tuple(row for row in rows if row.task in stop_tasks), asked)
            yield from _releases(
                method,
                recorded(rows, "release_s"),
                asked,
                "time to the stop signal" if latched and asked else "release",
            )
    yield from _distances(case, recorded(rows_of.get(case.configuration.method or "", ()), "release_s"))
    for method in case.trial.methods:
        if method.id != case.configuration.method:
            yield from _with_another(case, method, recorded(rows_of.get(method.id, ()), "release_s"))


def _with_another(case: Case, method: Method, rows: list[Row]) -> Iterator[Fact]:
    """stopping_with.<method>.<profile>: the distance a control that is not asked for would need at that profile's speed."""
    chair = case.configuration.chair
    slow_end = _slow_end(rows)
    if slow_end is None or chair.electronics_delay_s is None or chair.deceleration_m_s2 is None:
        return
    for index, profile in enumerate(case.configuration.profiles):
        if profile.speed_m_s is not None:
            stop = stopping_distance(profile.speed_m_s, slow_end, chair.electronics_delay_s, chair.deceleration_m_s2)
            yield Fact(
                f"stopping_with.{method.id}.{profile.id}",
                "stopping",
                f"stopping distance on the level, {method.name} at the speed of the {profile.name} profile",
                "metres",
                stop.total_m,
                len(rows),
                rows=lines(rows),
                keys=(*_CHAIR, f"configuration.profiles.{index}.speed_m_s"),
                formula=_STOPPING,
                source=_UNIFORM,
                note=f"at {profile.speed_m_s:g} m/s, release {slow_end:.2g} s; the speed was not driven with it unless the rows say so",
            )


def _requests(method: Method, stops: tuple[Row, ...], asked: bool) -> Iterator[Fact]:
    if not stops:
        return
    yield share(f"stop_request.{method.id}", "stopping", f"stops on request, {method.name}", stops)
    missed = [row for row in stops if not row.success]
    if asked and missed:
        told = [
            f"{row.date}: {row.note}" if row.note else f"{row.date}: what happened is not recorded" for row in missed
        ]
        yield Fact(
            f"stops_missed.{method.id}",
            "stopping",
            f"stops missed, {method.name}",
            "words",
            None,
            len(missed),
            rows=lines(missed),
            text="; ".join(told),
            formula="rows of a stopping task that were not done, with their notes",
        )


def _releases(method: Method, rows: list[Row], asked: bool, what: str) -> Iterator[Fact]:
    bound = release_bound([row.release_s for row in rows])
    slowest = [row for row in rows if row.release_s == bound.slowest_s]
    yield Fact(
        f"release_slowest.{method.id}",
        "stopping",
        f"slowest {what} seen, {method.name}",
        "seconds",
        bound.slowest_s,
        len(rows),
        rows=lines(slowest),
        formula="largest of the release times",
        note=f"of {len(rows)}" if rows else "release times",
    )
    if asked:
        yield Fact(
            f"release.{method.id}",
            "stopping",
            f"slow end of {what}, {method.name}",
            "seconds",
            bound.upper_s,
            len(rows),
            rows=lines(rows),
            formula=_BOUND,
            source=_BOUND_SOURCE,
            note=_how(bound),
        )


def _how(bound: ReleaseBound) -> str:
    """How the bound was reached, in plain words."""
    return {
        "ranked": f"one of the {bound.n} times; no distribution assumed",
        "lognormal": f"from mean and spread of {bound.n} times; {smallest_n()} would need no distribution",
        "slowest": f"the slowest of {bound.n} times, since the computed bound falls below it",
        "none": bound.why,
    }[bound.method]


def _slow_end(rows: Sequence[Row]) -> float | None:
    """The release time that counts: the slower of the bound and the slowest seen."""
    bound = release_bound([row.release_s for row in rows])
    return max((s for s in (bound.upper_s, bound.slowest_s) if s is not None), default=None)


def _distances(case: Case, rows: Sequence[Row]) -> Iterator[Fact]:
    chair, profiles = case.configuration.chair, case.configuration.profiles
    slow_end = _slow_end(rows)
    lacking = ", ".join(
        words
        for words, value in (
            ("release times of the control asked for", slow_end),
            ("delay of the electronics", chair.electronics_delay_s),
            ("deceleration of the chair", chair.deceleration_m_s2),
        )
        if value is None
    )
    for index, profile in enumerate(profiles):
        at = (*_CHAIR, f"configuration.profiles.{index}.speed_m_s")
        label = f"stopping distance on the level, {profile.name} profile"
        if lacking or profile.speed_m_s is None:
            yield Fact(
                f"stopping.{profile.id}",
                "stopping",
                label,
                "metres",
                None,
                keys=at,
                note=lacking or f"speed of the {profile.name} profile",
            )
            continue
        stop = stopping_distance(profile.speed_m_s, slow_end, chair.electronics_delay_s, chair.deceleration_m_s2)
        yield Fact(
            f"stopping.{profile.id}",
            "stopping",
            label,
            "metres",
            stop.total_m,
            len(rows),
            rows=lines(rows),
            keys=at,
            formula=_STOPPING,
            source=_UNIFORM,
            note=f"at {profile.speed_m_s:g} m/s, release {slow_end:.2g} s",
        )
    for index, space in enumerate(case.spaces):
        if space.clear_ahead_mm is not None:
            yield _speed(case, space, index, slow_end, lacking, rows)
        profile = next((p for p in profiles if p.id == space.profile), None)
        if space.slope_percent and profile is not None and profile.speed_m_s is not None and not lacking:
            yield _downhill(case, space, index, profile.speed_m_s, slow_end, rows)


def _downhill(case: Case, space: Space, index: int, speed_m_s: float, slow_end: float, rows: Sequence[Row]) -> Fact:
    """Stopping distance going down one slope at the speed of its profile; none where the level deceleration does not hold."""
    chair = case.configuration.chair
    stop = stopping_distance(
        speed_m_s, slow_end, chair.electronics_delay_s, chair.deceleration_m_s2, space.slope_percent
    )
    label = f"stopping distance down the slope, {space.name}"
    keys = (f"spaces.{index}.slope_percent", "configuration.chair.deceleration_m_s2")
    if stop is None:
        return Fact(
            f"stopping_on.{space.id}",
            "stopping",
            label,
            "metres",
            None,
            keys=keys,
            note=f"stopping distance on the slope of the {space.name}, as measured there",
        )
    return Fact(
        f"stopping_on.{space.id}",
        "stopping",
        label,
        "metres",
        stop.total_m,
        len(rows),
        rows=lines(rows),
        keys=keys,
        formula=f"{_STOPPING}, deceleration less the part of gravity along the slope",
        source=_UNIFORM,
        note=f"at {speed_m_s:g} m/s, down {space.slope_percent:g}%",
    )


def _speed(case: Case, space: Space, index: int, slow_end: float | None, lacking: str, rows: Sequence[Row]) -> Fact:
    """Fastest speed that stops in one space, never above the profile used there (or the fastest one)."""
    chair = case.configuration.chair
    keys = (
        "configuration.chair.electronics_delay_s",
        "configuration.chair.deceleration_m_s2",
        f"spaces.{index}.clear_ahead_mm",
    )
    label = f"fastest speed that stops there, {space.name}"
    if lacking:
        return Fact(f"safe_speed.{space.id}", "stopping", label, "speed", None, keys=keys, note=lacking)
    step = chair.speed_step_m_s or SPEED_STEP_M_S
    speed = fastest_speed_m_s(
        space.clear_ahead_mm / 1000,
        slow_end,
        chair.electronics_delay_s,
        chair.deceleration_m_s2,
        down_percent=space.slope_percent or 0.0,
        step_m_s=step,
    )
    if space.slope_percent and speed == 0:
        return Fact(
            f"safe_speed.{space.id}",
            "stopping",
            label,
            "speed",
            None,
            keys=keys,
            note=f"deceleration on the slope of the {space.name}; the one on the level does not hold the chair, "
            "so it is not to be driven before it is measured there",
        )
    profiles = [p for p in case.configuration.profiles if p.speed_m_s is not None]
    used = [p for p in profiles if p.id == space.profile] or profiles
    fastest = max((p.speed_m_s for p in used), default=None)
    capped = fastest is not None and speed > fastest
    notes = [
        f"{space.clear_ahead_mm / 1000:g} m ahead",
        f"down {space.slope_percent:g}%" if space.slope_percent else "",
        f"held to the {max(used, key=lambda p: p.speed_m_s).name} profile" if capped else "",
        "the sum does not cover a missed stop",
    ]
    return Fact(
        f"safe_speed.{space.id}",
        "stopping",
        label,
        "speed",
        fastest if capped else speed,
        len(rows),
        rows=lines(rows),
        keys=keys,
        formula=f"{_STOPPING} solved for v, rounded down to the step of the setting",
        source=_UNIFORM,
        note="; ".join(filter(None, notes)),
    )
