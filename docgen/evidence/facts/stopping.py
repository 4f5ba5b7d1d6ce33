"""Letting go and stopping: release times, missed stops, the distance at each profile, the speed for each space."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.tried import Method
from docgen.evidence.blocks import by_method, lines, recorded
from docgen.evidence.fact import Fact
from docgen.evidence.facts.driving import share
from docgen.evidence.release import ReleaseBound, smallest_n
from docgen.evidence.stopping_rule import Stopping, StopThere, braking_with, release_used, stopping
from docgen.units import two_digits

ORDER = 10
QUESTION = "Can the client stop, and in the space there is?"
_STOPPING = "v (release + delay) + v^2 / (2 x deceleration)"
_CHAIR = ("configuration.chair.electronics_delay_s", "configuration.chair.deceleration_m_s2")
_UNIFORM = "uniform deceleration; the release used is the slower of the bound and the slowest seen"
_BOUND = "upper tolerance bound: 95% of releases stay under it, with 95% confidence"
_BOUND_SOURCE = "noncentral t on logs, or order statistics (Wilks 1941, from memory)"


def facts(case: Case) -> Iterator[Fact]:
    """stop_request, stops_missed, release_slowest of each method; release of the one asked for; stopping, safe_speed,
    stopping_with."""
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
    rule = stopping(case)
    yield from _on_level(rule)
    yield from _in_places(rule)
    for method in case.trial.methods:
        if method.id != case.configuration.method:
            yield from _with_another(case, method, recorded(rows_of.get(method.id, ()), "release_s"))


def _with_another(case: Case, method: Method, rows: list[Row]) -> Iterator[Fact]:
    """stopping_with.<method>.<profile>: the distance a control that is not asked for would need at that profile's
    speed."""
    release = release_used(rows)
    braking = braking_with(case, release)
    if braking is None:
        return
    for index, profile in enumerate(case.configuration.profiles):
        if profile.speed_m_s is not None:
            yield Fact(
                f"stopping_with.{method.id}.{profile.id}",
                "stopping",
                f"stopping distance on the level, {method.name} at the speed of the {profile.name} profile",
                "metres",
                braking.distance_m(profile.speed_m_s),
                len(rows),
                side="up",
                rows=lines(rows),
                keys=(*_CHAIR, f"configuration.profiles.{index}.speed_m_s"),
                formula=_STOPPING,
                source=_UNIFORM,
                note=(
                    f"at {profile.speed_m_s:g} m/s, release {two_digits(release.seconds or 0, 'up')} s; the speed was "
                    "not driven with it unless the rows say so"
                ),
                listed=False,
            )


def _requests(method: Method, stops: tuple[Row, ...], asked: bool) -> Iterator[Fact]:
    if not stops:
        return
    yield share(f"stop_request.{method.id}", "stopping", f"stops on request, {method.name}", stops)
    missed = sorted(
        (row for row in stops if not row.success), key=lambda row: (row.date, row.attempt or 0, row.note or "")
    )
    if asked and missed:
        notes = [
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
            text="; ".join(notes),
            formula="rows of a stopping task that were not done, with their notes",
        )


def _releases(method: Method, rows: list[Row], asked: bool, what: str) -> Iterator[Fact]:
    bound = release_used(rows).bound
    slowest = [row for row in rows if row.release_s == bound.slowest_s]
    yield Fact(
        f"release_slowest.{method.id}",
        "stopping",
        f"slowest {what} seen, {method.name}",
        "seconds",
        bound.slowest_s,
        len(rows),
        side="up",
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
            side="up",
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


def _on_level(rule: Stopping) -> Iterator[Fact]:
    """stopping.<profile>: the distance at the speed of each profile."""
    for index, (profile, distance_m) in enumerate(rule.on_level):
        name, label = f"stopping.{profile.id}", f"stopping distance on the level, {profile.name} profile"
        keys = (*_CHAIR, f"configuration.profiles.{index}.speed_m_s")
        if distance_m is None:
            yield Fact(
                name,
                "stopping",
                label,
                "metres",
                None,
                keys=keys,
                note=rule.lacking or f"speed of the {profile.name} profile",
            )
            continue
        yield Fact(
            name,
            "stopping",
            label,
            "metres",
            distance_m,
            len(rule.rows),
            side="up",
            rows=lines(rule.rows),
            keys=keys,
            formula=_STOPPING,
            source=_UNIFORM,
            note=f"at {profile.speed_m_s:g} m/s, release {two_digits(rule.release.seconds or 0, 'up')} s",
        )


def _in_places(rule: Stopping) -> Iterator[Fact]:
    """room_left.<space> where the length is from the way in, safe_speed.<space>, stopping_on.<space> on a slope."""
    for index, there in enumerate(rule.places):
        if there.space.ahead_from == "way_in" and there.space.clear_ahead_mm is not None:
            yield Fact(
                f"room_left.{there.space.id}",
                "stopping",
                f"space ahead of the chair once it is in, {there.space.name}",
                "millimetres",
                None if there.room_m is None else round(there.room_m * 1000, 1),
                1,
                side="down",
                keys=(f"spaces.{index}.clear_ahead_mm", "configuration.chair.length_mm"),
                formula="length from the way in less the length of the chair; 0 where the chair is longer",
                note="" if there.room_m is not None else "overall length of the chair",
            )
        if there.room_m is not None:
            yield _speed(rule, there, there.room_m, index)
        if there.space.slope_percent and there.profile and there.profile.speed_m_s is not None and rule.braking:
            yield _downhill(rule, there, there.profile.speed_m_s, index)


def _downhill(rule: Stopping, there: StopThere, speed_m_s: float, index: int) -> Fact:
    """Stopping distance going down one slope at the speed of its profile; none where the level deceleration does not
    hold."""
    space = there.space
    name, label = f"stopping_on.{space.id}", f"stopping distance down the slope, {space.name}"
    keys = (f"spaces.{index}.slope_percent", "configuration.chair.deceleration_m_s2")
    if there.distance_m is None:
        return Fact(name, "stopping", label, "metres", None, keys=keys, note=there.lacking)
    return Fact(
        name,
        "stopping",
        label,
        "metres",
        there.distance_m,
        len(rule.rows),
        side="up",
        rows=lines(rule.rows),
        keys=keys,
        formula=f"{_STOPPING}, deceleration less the part of gravity along the slope",
        source=_UNIFORM,
        note=f"at {speed_m_s:g} m/s, down {space.slope_percent:g}%",
    )


def _speed(rule: Stopping, there: StopThere, room_m: float, index: int) -> Fact:
    """Fastest speed that stops in one space, never above the profile used there (or the fastest one)."""
    space = there.space
    name, label = f"safe_speed.{space.id}", f"fastest speed that stops there, {space.name}"
    from_way_in = space.ahead_from == "way_in"
    keys = (*_CHAIR, f"spaces.{index}.clear_ahead_mm", *(("configuration.chair.length_mm",) if from_way_in else ()))
    if there.fastest_m_s is None:
        on_slope = (
            f"deceleration on the slope of the {space.name}; the one on the level does not hold the chair, "
            "so it is not to be driven before it is measured there"
        )
        return Fact(
            name,
            "stopping",
            label,
            "speed",
            None,
            keys=keys,
            note=on_slope if rule.braking and space.slope_percent else there.lacking,
        )
    notes = (
        f"{room_m:.4g} m ahead of the chair once it is in" if from_way_in else f"{room_m:g} m ahead",
        f"down {space.slope_percent:g}%" if space.slope_percent else "",
        f"held to the {there.held_to.name} profile" if there.held_to else "",
        "the sum does not cover a missed stop",
    )
    return Fact(
        name,
        "stopping",
        label,
        "speed",
        there.fastest_m_s,
        len(rule.rows),
        side="down",
        rows=lines(rule.rows),
        keys=keys,
        formula=f"{_STOPPING} solved for v, rounded down to the step of the setting",
        source=_UNIFORM,
        note="; ".join(filter(None, notes)),
    )
