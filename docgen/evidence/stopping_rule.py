"""The one stopping rule: whether the chair stops in the room there is, at the speed of the profile used there.

Facts, criteria, signs, settings, letter and reports take it from here (`Evidence.stopping`) and judge nothing again.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.need import Space
from docgen.case.profile import Profile
from docgen.case.totals import DayTotal, Tried
from docgen.evidence.blocks import by_method
from docgen.evidence.release import ReleaseBound, release_bound
from docgen.evidence.stopping import fastest_speed_m_s, stopping_distance

SPEED_STEP_M_S = 0.05  # speeds are rounded down to it unless the chair's own is recorded: common practice, no source
_ROUNDING = 1 + 1e-12  # a distance above the room by a rounding error alone still fits


class Release(Struct, frozen=True):
    """The release time that distances are worked out with: the slower of the tolerance bound and the slowest seen.

    seconds  None when no release was recorded
    why      which of the two it is; `slowest` where both are the same
    """

    seconds: float | None
    why: Literal["bound", "slowest"]
    bound: ReleaseBound


class Braking(Struct, frozen=True):
    """What a stop is worked out from: release and delay in seconds, deceleration on the level in m/s2."""

    release_s: float
    delay_s: float
    deceleration_m_s2: float

    def distance_m(self, speed_m_s: float, down_percent: float = 0.0) -> float | None:
        """Metres to standing still; None where the slope leaves no deceleration."""
        stop = stopping_distance(speed_m_s, self.release_s, self.delay_s, self.deceleration_m_s2, down_percent)
        return None if stop is None else stop.total_m

    def fastest_m_s(self, room_m: float, down_percent: float, step_m_s: float) -> float:
        """Fastest speed that stops in the room, rounded down to the step."""
        return fastest_speed_m_s(
            room_m, self.release_s, self.delay_s, self.deceleration_m_s2, down_percent, step_m_s=step_m_s
        )


class StopThere(Struct, frozen=True):
    """A stop in one place, at the speed of the profile used there.

    distance_m   what the chair needs, on the slope where there is one; None when it cannot be told
    room_m       clear space ahead of the chair: measured from the way in, what its length leaves of that once it is
                 in the place; None when not recorded
    fastest_m_s  fastest speed that stops in the room, never above the profile used there, or the fastest profile
                 where none is named; rounded down unless it is that profile's own; None when it cannot be told
    held_to      that profile, where the room would bear more than its speed
    lacking      what is not recorded and would tell the distance; empty when it is told
    measured     the distance was measured on the slope, and not worked out
    """

    space: Space
    profile: Profile | None
    distance_m: float | None = None
    room_m: float | None = None
    fastest_m_s: float | None = None
    held_to: Profile | None = None
    lacking: str = ""
    measured: bool = False

    @property
    def speed_m_s(self) -> float | None:
        """Speed of the profile used there; None when it is not recorded."""
        return self.profile.speed_m_s if self.profile is not None else None

    @property
    def margin_m(self) -> float | None:
        """Room left when the chair stands still, in metres; less than 0 where it is too short."""
        return None if self.distance_m is None or self.room_m is None else self.room_m - self.distance_m

    @property
    def stops(self) -> bool | None:
        """Whether it stops in the room there is; None when that cannot be told."""
        if self.distance_m is None or self.room_m is None:
            return None
        return self.distance_m <= self.room_m * _ROUNDING

    @property
    def fact(self) -> tuple[str, str]:
        """Name of the fact that holds the distance, for Evidence.of."""
        on_level = self.profile is not None and not self.space.is_sloping
        return ("stopping", self.profile.id) if on_level and self.profile else ("stopping_on", self.space.id)


def late_on_slope_m(space: Space, speed_m_s: float | None, release: Release) -> float | None:
    """The stop measured on a slope and the way of a whole release at that speed: whatever release that stop had, none
    is longer. In metres; None where a figure is not recorded.

    Check: 1.2 m, 0.35 m/s and 1.7 s -> 1.795 m.
    """
    if space.slope_stop_m is None or speed_m_s is None or release.seconds is None:
        return None
    return space.slope_stop_m + speed_m_s * release.seconds


class Stopping(Struct, frozen=True):
    """How the chair stops with the requested control.

    rows      the rows and totals whose release times were used
    braking   None when something is not recorded; `lacking` says what
    on_level  profile id -> metres on the level at its speed; None where that cannot be told
    places    every space of the case, in its order
    """

    release: Release
    rows: tuple[Tried, ...] = ()
    braking: Braking | None = None
    lacking: str = ""
    on_level: tuple[tuple[Profile, float | None], ...] = ()
    places: tuple[StopThere, ...] = ()


def timed_releases(rows: Sequence[Tried]) -> list[Tried]:
    """Rows with a release time, and totals with all or the slowest of theirs."""
    return [row for row in rows if row.slowest_s is not None]


def releases(rows: Sequence[Tried]) -> list[float]:
    """Every single release time known, in seconds; of a total that tells its slowest alone there is none."""
    times: list[float] = []
    for row in rows:
        if isinstance(row, DayTotal):
            times += row.releases_s or ()
        elif row.release_s is not None:
            times.append(row.release_s)
    return times


def n_releases(rows: Sequence[Tried]) -> int:
    """How many release times are known, the slowest of a total among them."""
    return sum(len(releases([row])) or row.slowest_s is not None for row in rows)


def release_used(rows: Sequence[Tried]) -> Release:
    """The release time that counts among these rows and totals.

    The bound is that of the single times: the slowest of a day is no sample of it. Where such a slowest is slower than
    the bound, it counts.
    """
    bound = _bound_of(tuple(releases(rows)))
    slowest_s = max((row.slowest_s for row in rows if row.slowest_s is not None), default=None)
    if slowest_s != bound.slowest_s:
        bound = replace(bound, slowest_s=slowest_s)
    if bound.method == "none" and any(row.slowest_s is not None and not releases([row]) for row in rows):
        bound = replace(bound, why="from totals: of a day only the slowest release is known, so no bound of releases")
    if bound.upper_s is not None and (bound.slowest_s is None or bound.upper_s > bound.slowest_s):
        return Release(bound.upper_s, "bound", bound)
    return Release(bound.slowest_s, "slowest", bound)


@lru_cache(256)  # the same rows are asked about by several facts, and in several states of a case
def _bound_of(times_s: tuple[float, ...]) -> ReleaseBound:
    return release_bound(times_s)


def braking_with(case: Case, release: Release) -> Braking | None:
    """The chair's own figures with a release time; None when one of the three is not recorded."""
    chair = case.configuration.chair
    if release.seconds is None or chair.electronics_delay_s is None or chair.deceleration_m_s2 is None:
        return None
    return Braking(release.seconds, chair.electronics_delay_s, chair.deceleration_m_s2)


def stopping(case: Case) -> Stopping:
    """How the chair of a case stops, on the level at each profile and in each place."""
    chair = case.configuration.chair
    rows = timed_releases(by_method(case.tried).get(case.configuration.method or "", ()))
    release = release_used(rows)
    braking = braking_with(case, release)
    lacking = ", ".join(
        words
        for words, value in (
            ("release times of the requested control", release.seconds),
            ("delay of the electronics", chair.electronics_delay_s),
            ("deceleration of the chair", chair.deceleration_m_s2),
        )
        if value is None
    )
    return Stopping(
        release,
        tuple(rows),
        braking,
        lacking,
        tuple((profile, _on_the_level_m(profile, braking)) for profile in case.configuration.profiles),
        tuple(_there(case, space, braking, lacking) for space in case.spaces),
    )


def room_ahead_m(case: Case, space: Space) -> float | None:
    """Metres ahead of the chair in a place, 0.0 where the chair is as long as that; None when it cannot be told."""
    if space.clear_ahead_mm is None:
        return None
    if space.ahead_from != "way_in":
        return space.clear_ahead_mm / 1000
    length_mm = case.configuration.chair.length_mm
    return None if length_mm is None else max(0.0, space.clear_ahead_mm - length_mm) / 1000


def _there(case: Case, space: Space, braking: Braking | None, lacking: str) -> StopThere:
    profile = next((p for p in case.configuration.profiles if p.id == space.profile), None)
    room_m = room_ahead_m(case, space)
    if space.is_sloping and space.slope_stop_m is not None and space.slope_stop_on is not None:
        level_m = _on_the_level_m(profile, braking)
        if level_m is not None and space.slope_stop_m < level_m:  # the driver let go sooner than the rule allows for
            shorter = f"stopping distance on the slope of the {space.name}, no shorter than the one on the level"
            return StopThere(space, profile, room_m=room_m, lacking=shorter)
        return StopThere(space, profile, space.slope_stop_m, room_m, measured=True)
    slope = space.slope_percent or 0.0
    if braking is not None and space.slope_percent is None and space.is_sloping:
        lacking = f"slope of the {space.name}"
    elif braking is not None and braking.distance_m(1.0, slope) is None:
        lacking = f"stopping distance on the slope of the {space.name}, as measured there"
    if braking is None or lacking:
        return StopThere(space, profile, room_m=room_m, lacking=lacking)
    if profile is None:
        distance_m, lacking = None, f"the profile used in the {space.name}"
    elif profile.speed_m_s is None:
        distance_m, lacking = None, f"speed of the {profile.name} profile"
    else:
        distance_m = braking.distance_m(profile.speed_m_s, slope)
    if room_m is None:
        return StopThere(space, profile, distance_m, lacking=lacking)
    fastest_m_s, held_to = _fastest(case, profile, braking, room_m, slope)
    return StopThere(space, profile, distance_m, room_m, fastest_m_s, held_to, lacking)


def _on_the_level_m(profile: Profile | None, braking: Braking | None) -> float | None:
    """What the rule allows for a stop on the level at the speed of a profile; None where it cannot be told."""
    if braking is None or profile is None or profile.speed_m_s is None:
        return None
    return braking.distance_m(profile.speed_m_s)


def _fastest(
    case: Case, profile: Profile | None, braking: Braking, room_m: float, slope: float
) -> tuple[float, Profile | None]:
    """Fastest speed that stops in the room, and the profile that holds it below what the room bears."""
    fastest_m_s = braking.fastest_m_s(room_m, slope, case.configuration.chair.speed_step_m_s or SPEED_STEP_M_S)
    used = [profile] if profile is not None and profile.speed_m_s is not None else case.configuration.profiles
    speeds = [(p.speed_m_s, p) for p in used if p.speed_m_s is not None]
    if speeds:
        speed_m_s, holder = max(speeds, key=lambda pair: pair[0])
        needs_m = braking.distance_m(speed_m_s, slope)
        if needs_m is not None and needs_m <= room_m * _ROUNDING:  # rounding down must not say that it does not stop
            return speed_m_s, holder if fastest_m_s > speed_m_s else None
    return fastest_m_s, None
