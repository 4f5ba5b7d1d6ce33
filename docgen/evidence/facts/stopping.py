"""Letting go and stopping: release times, missed stops, the distance at each profile, the speed for each space."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.totals import Tried
from docgen.case.tried import Method
from docgen.evidence.blocks import by_method, lines, total_lines
from docgen.evidence.fact import Fact
from docgen.evidence.facts.driving import share
from docgen.evidence.misses import Miss, misses
from docgen.evidence.release import ReleaseBound, smallest_n
from docgen.evidence.stopping_rule import (
    Stopping,
    StopThere,
    braking_with,
    n_releases,
    release_used,
    releases,
    stopping,
    timed_releases,
)
from docgen.evidence.stops import NO_DAY, Stops, beside_rows, stops_on_request
from docgen.units import two_digits

ORDER = 10
QUESTION = "Can the client stop, and in the space there is?"
_STOPPING = "v (release + delay) + v^2 / (2 x deceleration)"
_CHAIR = ("configuration.chair.electronics_delay_s", "configuration.chair.deceleration_m_s2")
_UNIFORM = "uniform deceleration; the release used is the slower of the bound and the slowest seen"
_MEASURED = "measured on the chair as fitted"
_BOUND = "upper tolerance bound: 95% of releases stay under it, with 95% confidence"
_STOPS = ("stops_made", "stops_asked", "stops_on")  # of a method, counted beside its rows
_BOUND_SOURCE = "noncentral t on logs, or order statistics (Wilks 1941, from memory)"


def facts(case: Case) -> Iterator[Fact]:
    """stop_request, stops_missed, stops_since, stops_untimed, release_slowest and stop_time of each method; release of
    the one asked for; stopping, braking, safe_speed, stopping_with."""
    rows_of = by_method(case.tried)
    latched = case.configuration.is_latched
    for method in case.trial.methods:
        rows = rows_of.get(method.id, ())
        asked = method.id == case.configuration.method
        if rows:
            yield from _requests(case, method, stops_on_request(case, (*rows, *beside_rows(method))), asked)
            yield from _releases(
                method,
                timed_releases(rows),
                asked,
                "time to the stop signal" if latched and asked else "release",
            )
            yield from _stop_times(case, method)
    rule = stopping(case)
    yield from _on_level(rule)
    yield from _in_places(rule)
    for method in case.trial.methods:
        if method.id != case.configuration.method:
            yield from _with_another(case, method, timed_releases(rows_of.get(method.id, ())))


def _with_another(case: Case, method: Method, rows: list[Tried]) -> Iterator[Fact]:
    """stopping_with.<method>.<profile>: the distance a control that is not requested would need at that profile's
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
                n_releases(rows),
                side="up",
                rows=lines(rows),
                totals=total_lines(rows),
                keys=(*_CHAIR, f"configuration.profiles.{index}.speed_m_s"),
                formula=_STOPPING,
                source=_UNIFORM,
                note=(
                    f"at {profile.speed_m_s:g} m/s, release {two_digits(braking.release_s, 'up')} s; the speed was "
                    "not driven with it unless the rows say so"
                ),
                listed=False,
            )


def _requests(case: Case, method: Method, stops: Stops, asked: bool) -> Iterator[Fact]:
    """stop_request, stops_untimed, and of the control asked for stops_since and stops_missed."""
    if not stops.n_asked:
        return
    label = f"stops on command, {method.name}"
    requests = share(f"stop_request.{method.id}", "stopping", label, stops.rows, (stops.n_made, stops.n_asked))
    at = next(place for place, other in enumerate(case.trial.methods) if other is method)
    keys = tuple(f"trial.methods.{at}.{name}" for name in _STOPS) if beside_rows(method) else ()
    yield replace(requests, keys=keys)
    yield from _untimed(method, stops)
    if asked and stops.missed:
        yield from _since_missed(case, method, stops)
        yield _missed(method, misses(case, stops.rows))


def _untimed(method: Method, stops: Stops) -> Iterator[Fact]:
    """stops_untimed.<method>: how many stops were missed that have no release time; nothing where each has one."""
    untimed = [(row, n_asked - n_made) for row, n_made, n_asked in stops.missed if row.slowest_s is None]
    if not untimed:
        return
    rows = [row for row, _ in untimed]
    n_untimed = sum(n_missed for _, n_missed in untimed)
    yield Fact(
        f"stops_untimed.{method.id}",
        "stopping",
        f"missed stops that were not timed, {method.name}",
        "count",
        float(n_untimed),
        n_untimed,
        rows=lines(rows),
        totals=total_lines(rows),
        formula="stops missed in rows without a release time",
    )


def _since_missed(case: Case, method: Method, stops: Stops) -> Iterator[Fact]:
    """stops_since.<method>: the stops made on the days after the last missed one; nothing where none was asked."""
    last = max(row.date for row, _, _ in stops.missed)
    since = stops_on_request(case, [row for row in stops.rows if row.date > last])
    if since.n_asked:
        label = f"stops on command on the days after the last missed stop, {method.name}"
        yield share(f"stops_since.{method.id}", "stopping", label, since.rows, (since.n_made, since.n_asked))


def _missed(method: Method, missed: Sequence[Miss]) -> Fact:
    """stops_missed.<method>: each missed stop with its day and what happened."""
    rows = [miss.row for miss in missed]
    return Fact(
        f"stops_missed.{method.id}",
        "stopping",
        f"stops missed, {method.name}",
        "words",
        None,
        sum(miss.n_missed for miss in missed),
        rows=lines(rows),
        totals=total_lines(rows),
        text="; ".join(map(_what_happened, missed)),
        formula="rows of a stopping task that were not done, with their notes",
    )


def _what_happened(miss: Miss) -> str:
    """A missed stop in words: its day, of a total how many of how many, what happened, its release time."""
    of_how_many = "" if miss.n_asked == 1 else f", {miss.n_missed} of {miss.n_asked}"
    return f"{_day(miss.row)}{of_how_many}: {miss.what.rstrip('.') or 'what happened is not recorded'}{miss.release}"


def _day(row: Tried) -> str:
    return "a day not recorded" if row.date == NO_DAY else str(row.date)


def _releases(method: Method, rows: list[Tried], asked: bool, what: str) -> Iterator[Fact]:
    bound = release_used(rows).bound
    slowest = [row for row in rows if row.slowest_s == bound.slowest_s]
    yield Fact(
        f"release_slowest.{method.id}",
        "stopping",
        f"slowest {what} seen, {method.name}",
        "seconds",
        bound.slowest_s,
        n_releases(rows),
        side="up",
        rows=lines(slowest),
        totals=total_lines(slowest),
        formula="largest of the release times",
        note=_of_how_many(rows),
    )
    if asked:
        yield Fact(
            f"release.{method.id}",
            "stopping",
            f"upper limit of {what}, {method.name}",
            "seconds",
            bound.upper_s,
            len(releases(rows)),
            side="up",
            rows=lines(rows),
            totals=total_lines(row for row in rows if releases([row])),
            formula=_BOUND,
            source=_BOUND_SOURCE,
            note=_how(bound),
        )


def _stop_times(case: Case, method: Method) -> Iterator[Fact]:
    """stop_time.<method>: the longest time to stop of which it is not known that it is a release; nothing is worked out
    from it."""
    rows = [row for row in case.records if row.method == method.id and row.stop_s is not None]
    times = [row.stop_s for row in rows if row.stop_s is not None]
    if times:
        yield Fact(
            f"stop_time.{method.id}",
            "stopping",
            f"longest time to stop written down, not known as a release, {method.name}",
            "seconds",
            max(times),
            len(times),
            side="up",
            rows=lines(rows),
            formula="largest of the times to stop; used for nothing else",
            note=f"of {len(times)}, the shortest {min(times):g} s",
        )


def _of_how_many(rows: list[Tried]) -> str:
    """Of how many times it is the slowest; a total may tell its slowest alone."""
    if not rows:
        return "release times"
    days = len({row.date for row in rows if not releases([row])})
    parts = [f"of {n}"] if (n := len(releases(rows))) else []
    parts += [f"of {days} day{'' if days == 1 else 's'} only the slowest is known, from totals"] if days else []
    return "; ".join(parts)


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
        if distance_m is None or rule.braking is None:
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
        yield _by_the_rule(
            rule,
            name,
            label,
            (distance_m, "metres", "up"),
            keys,
            formula=_STOPPING,
            note=f"at {profile.speed_m_s:g} m/s, release {two_digits(rule.braking.release_s, 'up')} s",
        )


def _by_the_rule(
    rule: Stopping,
    name: str,
    label: str,
    worked_out: tuple[float, Literal["metres", "speed"], Literal["up", "down"]],
    keys: tuple[str, ...],
    *,
    formula: str,
    note: str,
) -> Fact:
    """A distance or a speed that follows from the releases of the trial and the braking of the chair.

    worked_out  its value, its kind, and the way it is rounded to be safe
    """
    value, kind, side = worked_out
    return Fact(
        name,
        "stopping",
        label,
        kind,
        value,
        n_releases(rule.rows),
        side=side,
        rows=lines(rule.rows),
        totals=total_lines(rule.rows),
        keys=keys,
        formula=formula,
        source=_UNIFORM,
        note=note,
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
                formula="length from the way in minus the length of the chair; 0 where the chair is longer",
                note="" if there.room_m is not None else "overall length of the chair",
            )
        if there.room_m is not None and not there.measured:  # of a stop that was measured no other speed is known
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
    if there.measured:
        at = f"spaces.{index}.slope_stop_m"
        note = f"at {speed_m_s:g} m/s, down {space.slope_percent:g}%"
        return Fact(
            name,
            "stopping",
            label,
            "metres",
            there.distance_m,
            1,
            side="up",
            keys=(at,),
            formula="the longest stop measured there",
            source=_MEASURED,
            note=note,
        )
    return _by_the_rule(
        rule,
        name,
        label,
        (there.distance_m, "metres", "up"),
        keys,
        formula=f"{_STOPPING}, deceleration minus the part of gravity along the slope",
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
    return _by_the_rule(
        rule,
        name,
        label,
        (there.fastest_m_s, "speed", "down"),
        keys,
        formula=f"{_STOPPING} solved for v, rounded down to the step of the setting",
        note="; ".join(filter(None, notes)),
    )
