"""Letting go and stopping: the slow end of the release times, the distance at each profile, the speed for each space."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.evidence.blocks import by_method, lines, recorded
from docgen.evidence.fact import Fact
from docgen.evidence.release import release_bound
from docgen.evidence.stopping import fastest_speed_m_s, stopping_distance

ORDER = 25
QUESTION = "Can the client stop in the space there is?"
SPEED_STEP_M_S = 0.05  # speeds are rounded down to this step: common practice, no source
_STOPPING = "v (release + delay) + v^2 / (2 x deceleration)"
_BOUND = "upper tolerance bound, 95% of releases with 95% confidence"
_BOUND_SOURCE = "one-sided tolerance limits by the noncentral t on logs, or by order statistics (Wilks 1941, from memory)"


def facts(case: Case) -> Iterator[Fact]:
    """release.<method>, release_slowest.<method>, stopping.<profile> and safe_speed.<space>."""
    rows_of = by_method(case.records)
    for method in case.trial.methods:
        rows = recorded(rows_of.get(method.id, ()), "release_s")
        if not rows_of.get(method.id):
            continue
        bound = release_bound([row.release_s for row in rows])
        yield Fact(f"release.{method.id}", "stopping", f"slow end of release, {method.name}", "seconds", bound.upper_s,
                   len(rows), rows=lines(rows), formula=_BOUND, source=_BOUND_SOURCE, note=bound.why)
        slowest = tuple(row for row in rows if row.release_s == bound.slowest_s)
        yield Fact(f"release_slowest.{method.id}", "stopping", f"slowest release seen, {method.name}", "seconds",
                   bound.slowest_s, len(rows), rows=lines(slowest), formula="largest", note="" if rows else bound.why)
    yield from _stops(case, [row for row in rows_of.get(case.configuration.method or "", ()) if row.release_s is not None])


def _stops(case: Case, rows: list) -> Iterator[Fact]:
    chair = case.configuration.chair
    bound = release_bound([row.release_s for row in rows])
    slow_end = max((s for s in (bound.upper_s, bound.slowest_s) if s is not None), default=None)
    lacking = [words for words, value in (
        ("release times of the control asked for", slow_end), ("delay of the electronics", chair.electronics_delay_s),
        ("deceleration of the chair", chair.deceleration_m_s2)) if value is None]
    known = {"rows": lines(rows), "source": "uniform deceleration; the release used is the slower of the bound and the slowest seen"}
    keys = ("configuration.chair.electronics_delay_s", "configuration.chair.deceleration_m_s2")
    for index, profile in enumerate(case.configuration.profiles):
        at = (*keys, f"configuration.profiles.{index}.speed_m_s")
        label = f"stopping distance, {profile.name} profile"
        if lacking or profile.speed_m_s is None:
            note = ", ".join(lacking or [f"speed of the {profile.name} profile"])
            yield Fact(f"stopping.{profile.id}", "stopping", label, "metres", None, keys=at, note=note)
            continue
        stop = stopping_distance(profile.speed_m_s, slow_end, chair.electronics_delay_s, chair.deceleration_m_s2)
        yield Fact(f"stopping.{profile.id}", "stopping", label, "metres", stop.total_m, len(rows), keys=at,
                   formula=_STOPPING, note=f"release {slow_end:.2f} s", **known)
    for index, space in enumerate(case.spaces):
        if space.clear_ahead_mm is None:
            continue
        at = (*keys, f"spaces.{index}.clear_ahead_mm")
        label = f"fastest speed that stops there, {space.name}"
        if lacking:
            yield Fact(f"safe_speed.{space.id}", "stopping", label, "speed", None, keys=at, note=", ".join(lacking))
            continue
        speed = fastest_speed_m_s(space.clear_ahead_mm / 1000, slow_end, chair.electronics_delay_s,
                                  chair.deceleration_m_s2, step_m_s=SPEED_STEP_M_S)
        yield Fact(f"safe_speed.{space.id}", "stopping", label, "speed", speed, len(rows), keys=at,
                   formula=f"{_STOPPING} solved for v, rounded down to {SPEED_STEP_M_S:g} m/s", **known)
