"""What the chair alone needs to stand still once the input is off: the limits of the stop tests at a fitting."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.evidence.fact import Fact, Kind
from docgen.evidence.stopping import stopping_distance

ORDER = 11
QUESTION = "Can the client stop, and in the space there is?"
_CHAIR = ("configuration.chair.electronics_delay_s", "configuration.chair.deceleration_m_s2")
_STOP_ALONE = "v delay + v^2 / (2 x deceleration)"
_TIME_ALONE = "delay + v / deceleration"
_TURN_ALONE = "delay + turning deceleration"
_LONGEST_THERE = "longest stop on it, measured before anyone drives it"


def facts(case: Case) -> Iterator[Fact]:
    """braking.<profile>: what the chair alone needs from its speed once the input is off, the limit of a stop test.

    braking_back.<profile> is the same in reverse, braking_s.<profile> and braking_back_s.<profile> the time it takes,
    braking_turn_s.<profile> the time to the end of a turn in place, where its setting was timed,
    and braking_on.<space> the way down a slope, without a value where its slope is not recorded or the brakes do not
    hold the chair there.
    """
    delay_s, deceleration = case.configuration.chair.electronics_delay_s, case.configuration.chair.deceleration_m_s2
    if delay_s is None or deceleration is None:
        return
    speeds = {profile.id: profile.speed_m_s for profile in case.configuration.profiles}
    for index, profile in enumerate(case.configuration.profiles):
        at = f"configuration.profiles.{index}"
        ways = [("braking", profile.speed_m_s, f"{at}.speed_m_s", "stop from input off on the level")]
        if case.configuration.backs is not False:
            ways += [("braking_back", profile.reverse_m_s, f"{at}.reverse_m_s", "stop from input off in reverse")]
        for family, speed_m_s, key, label in ways:
            if speed_m_s is None:
                continue
            stop = stopping_distance(speed_m_s, 0.0, delay_s, deceleration)
            metres, seconds = (stop.total_m, delay_s + speed_m_s / deceleration) if stop else (None, None)
            what, keys, note = f"{label}, {profile.name} profile", (*_CHAIR, key), f"at {speed_m_s:g} m/s"
            is_listed = family == "braking"
            yield _alone((f"{family}.{profile.id}", what, "limit", _STOP_ALONE), metres, keys, note, is_listed)
            in_time = f"time of the {what}"
            yield _alone((f"{family}_s.{profile.id}", in_time, "seconds", _TIME_ALONE), seconds, keys, note)
    yield from _turns(case, delay_s)
    for index, space in enumerate(case.spaces):
        speed_m_s = speeds.get(space.profile or "")
        if space.is_sloping and speed_m_s is not None:
            slope = space.slope_percent
            down = None if slope is None else stopping_distance(speed_m_s, 0.0, delay_s, deceleration, slope)
            keys = (*_CHAIR, f"spaces.{index}.slope_percent")
            what = f"stop from input off down the slope, {space.name}"
            metres = down.total_m if down else None
            yield _alone((f"braking_on.{space.id}", what, "limit", _STOP_ALONE), metres, keys, _LONGEST_THERE)


def _turns(case: Case, delay_s: float) -> Iterator[Fact]:
    """The end of a turn in place in each profile whose turning deceleration was timed."""
    timed = [
        (index, entry.profile, entry.turn_ends_s)
        for index, entry in enumerate(case.configuration.settings)
        if entry.setting == "turn_deceleration" and entry.turn_ends_s
    ]
    for profile in case.configuration.profiles:
        for index, profile_id, turn_s in timed:
            if profile_id in (None, profile.id):
                what = f"end of a turn from input off, {profile.name} profile"
                keys = (_CHAIR[0], f"configuration.settings.{index}.turn_ends_s")
                named: tuple[str, str, Kind, str] = (f"braking_turn_s.{profile.id}", what, "seconds", _TURN_ALONE)
                yield _alone(named, delay_s + turn_s, keys, f"turning ends in {turn_s:g} s")
                break


def _alone(
    named: tuple[str, str, Kind, str], value: float | None, keys: tuple[str, ...], note: str, is_listed: bool = False
) -> Fact:
    """One fact of a stop of the chair alone: id, label, kind and formula, its value, and the keys it is made from."""
    fact_id, label, kind, formula = named
    return Fact(
        fact_id,
        "stopping",
        label,
        kind,
        value,
        side="up",
        keys=keys,
        formula=formula,
        source="uniform deceleration",
        note=note,
        listed=is_listed,
    )
