"""The stopping rule: which release is used, whether a chair stops in a place, and the sentence that says so."""

from __future__ import annotations

import math
from datetime import date

import pytest
from gathered import of_each

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import DayTotal
from docgen.evidence.stopping_rule import Braking, braking_with, n_releases, release_used, releases, stopping

# logs 0.1 to 0.5: bound exp(0.3 + 4.203 x 0.158114) = 2.624 s, factor of Odeh and Owen 1980 (from memory)
SPREAD = tuple(math.exp(tenths / 10) for tenths in range(1, 6))
SLOWEST, BOUND = SPREAD[-1], 2.624
PROFILE = {"id": "indoor", "name": "indoor", "speed_m_s": 0.5}
STOPPED = {"slope_stop_m": 0.9, "slope_stop_on": date(2026, 3, 24)}
CHAIR = {"electronics_delay_s": 0.15, "deceleration_m_s2": 0.8}


def case_with(releases=(0.9,), chair=CHAIR, profiles=(PROFILE,), **space):
    rows = tuple(
        Row(at, date(2026, 3, 3), "pads", "stop", success=True, release_s=seconds)
        for at, seconds in enumerate(releases, 2)
    )
    spaces = ({"id": "door", "name": "door", "kind": "doorway", "profile": "indoor"} | space,)
    raw = {
        "format": "docgen case 1",
        "id": "x",
        "trial": {
            "methods": ({"id": "pads", "name": "pads"},),
            "tasks": ({"id": "stop", "name": "stop", "shows": "stop"},),
        },
        "configuration": {"method": "pads", "chair": chair, "profiles": profiles},
        "spaces": spaces,
    }
    return Case.model_validate(raw, strict=False).with_records(rows)


def there(**given):
    return stopping(case_with(**given)).places[0]


def test_the_bound_is_used_where_it_is_slower_than_the_slowest_seen():
    release = release_used(case_with(SPREAD).records)
    assert release.why == "bound" and release.seconds == pytest.approx(BOUND, abs=2e-3)
    assert release.bound.slowest_s == SLOWEST < release.seconds


@pytest.mark.parametrize("releases", [(0.9,), (0.4, 0.9, 0.7), (0.9,) * 8])
def test_the_slowest_is_used_where_there_is_no_bound(releases):
    release = release_used(case_with(releases).records)
    assert (release.seconds, release.why) == (0.9, "slowest")


def test_the_slowest_is_used_where_the_ranked_bound_is_below_it():
    times = [0.5 + 0.001 * at for at in range(92)] + [9.0]  # 92 of 93 is the rank (published tables, from memory)
    release = release_used(case_with(times).records)
    assert release.bound.upper_s == pytest.approx(0.591) and (release.seconds, release.why) == (9.0, "slowest")


def test_where_bound_and_slowest_are_the_same_it_is_called_the_slowest():
    times = [0.5] * 58 + [0.9]  # 59 of 59 (Wilks 1941, from memory)
    assert (release_used(case_with(times).records).seconds, release_used(case_with(times).records).why) == (
        0.9,
        "slowest",
    )


def total(**more):
    return DayTotal(2, date(2026, 3, 3), "pads", "door", attempts=5, done=5, **more)


def of_a_day(*seconds):
    return list(case_with(seconds).records)


@pytest.mark.parametrize(("slowest_s", "why"), [(0.6, "bound"), (99.0, "slowest")])
def test_a_slowest_beyond_the_bound_of_the_single_times_counts(slowest_s, why):
    rows = [Row(line, date(2026, 3, 4), "a", "door", True, release_s=0.4 + line / 50) for line in range(2, 9)]
    alone, both = release_used(rows), release_used([*rows, total(slowest_release_s=slowest_s)])
    assert alone.why == "bound" and both.bound.upper_s == alone.bound.upper_s and both.why == why
    assert both.seconds == max(slowest_s, alone.seconds) and both.bound.slowest_s == max(slowest_s, 0.56)


@pytest.mark.parametrize(
    ("tried", "times", "n", "why"),
    [
        ([total(releases_s=(0.5, 0.8))], [0.5, 0.8], 2, "2 of the 5 release times that a bound needs"),
        ([total(slowest_release_s=0.8)], [], 1, "from totals: of a day only the slowest"),
        ([*of_a_day(0.5), total(slowest_release_s=0.8)], [0.5], 2, "from totals: of a day only the slowest"),
        ([*of_a_day(0.5, 0.8), total()], [0.5, 0.8], 2, "2 of the 5 release times that a bound needs"),
        (
            [*of_a_day(*SPREAD), total(slowest_release_s=0.8)],
            list(SPREAD),
            6,
            "5 times; fewer than the 59 that need no distribution",
        ),
    ],
)
def test_single_times_of_rows_and_totals_make_the_bound_and_a_slowest_alone_is_counted(tried, times, n, why):
    assert releases(tried) == times and n_releases(tried) == n
    assert release_used(tried).bound.why.startswith(why), release_used(tried).bound.why


def test_no_release_is_no_release():
    release = release_used(())
    assert release.seconds is None and release.why == "slowest"
    assert braking_with(case_with(()), release) is None


@pytest.mark.parametrize("gone", [("electronics_delay_s",), ("deceleration_m_s2",), tuple(CHAIR)])
def test_without_a_figure_of_the_chair_nothing_is_worked_out(gone):
    case = case_with(chair={key: value for key, value in CHAIR.items() if key not in gone}, clear_ahead_mm=900)
    rule = stopping(case)
    assert rule.braking is None and braking_with(case, rule.release) is None
    assert rule.places[0].stops is None and rule.places[0].fastest_m_s is None and rule.places[0].room_m == 0.9
    names = {"electronics_delay_s": "delay of the electronics", "deceleration_m_s2": "deceleration of the chair"}
    assert rule.lacking == ", ".join(names[key] for key in gone) == rule.places[0].lacking


def test_the_distance_is_worked_by_hand_with_the_release_used():
    braking = Braking(0.9, 0.15, 0.8)
    assert braking.distance_m(0.4) == pytest.approx(0.52)  # 0.4 x (0.9 + 0.15) + 0.16 / 1.6
    assert braking.distance_m(0.4, 4.0) > 0.53 and braking.distance_m(0.4, 8.33) is None
    rule = stopping(case_with(SPREAD))
    assert rule.on_level[0][1] == pytest.approx(0.5 * (BOUND + 0.15) + 0.25 / 1.6, abs=1e-3)
    assert rule.lacking == "" and len(rule.rows) == 5


def test_rows_of_another_method_and_rows_without_a_release_are_left_out():
    case = case_with((0.9, None, 5.0))
    rows = (*case.records[:2], Row(9, date(2026, 3, 3), "stick", "stop", success=True, release_s=5.0))
    assert stopping(case.with_records(rows)).release.seconds == 0.9


# at 0.5 m/s: 0.5 x 1.05 + 0.25 / 1.6 = 0.68125 m
@of_each(
    "room_mm, stops, fastest",
    [
        (682, True, 0.5),
        (681, False, 0.45),
        (582, False, 0.4),  # 0.45 takes 0.5990625 m, 0.4 takes 0.52
        (600, False, 0.45),
        (599, False, 0.4),
        (521, False, 0.4),
        (519, False, 0.35),
        (3000, True, 0.5),
    ],
)
def test_the_verdict_and_the_fastest_speed_change_at_the_distance_itself(room_mm, stops, fastest):
    place = there(clear_ahead_mm=room_mm)
    assert place.distance_m == pytest.approx(0.68125)
    assert (place.stops, place.fastest_m_s) == (stops, fastest)
    assert place.room_m == room_mm / 1000 and place.margin_m == pytest.approx(room_mm / 1000 - 0.68125)
    assert (place.held_to.id if place.held_to else None) == ("indoor" if room_mm == 3000 else None)


def test_a_room_of_just_the_distance_is_enough_and_the_profile_itself_is_not_rounded_down():
    odd = PROFILE | {"speed_m_s": 0.43}  # 0.43 x 1.05 + 0.1849 / 1.6 = 0.5670625
    place = there(profiles=(odd,), clear_ahead_mm=567.0625)
    assert place.stops and place.fastest_m_s == 0.43 and place.held_to is None
    assert there(profiles=(odd,), clear_ahead_mm=567).fastest_m_s == 0.4


def test_the_step_of_the_chair_counts_before_the_usual_one():
    assert there(chair=CHAIR | {"speed_step_m_s": 0.2}, clear_ahead_mm=681).fastest_m_s == pytest.approx(0.4)


def test_a_slope_counts_and_one_that_the_brakes_do_not_hold_is_not_worked_out():
    place = there(kind="ramp", slope_percent=5, clear_ahead_mm=930)
    left = 0.8 - 9.80665 * math.sin(math.atan(0.05))
    assert place.distance_m == pytest.approx(0.5 * 1.05 + 0.25 / (2 * left)) and place.stops
    assert place.fact == ("stopping_on", "door")
    held = there(kind="ramp", slope_percent=20, clear_ahead_mm=900)
    assert (held.distance_m, held.stops, held.fastest_m_s) == (None, None, None)
    assert held.lacking == "stopping distance on the slope of the door, as measured there"


def test_a_stop_measured_counts_on_a_slope_alone():
    """On the level the slowest release counts, which a measured stop may not have had."""
    ramp = there(kind="ramp", slope_percent=20, **STOPPED, clear_ahead_mm=1000)
    assert (ramp.distance_m, ramp.stops, ramp.measured, ramp.fastest_m_s) == (0.9, True, True, None)
    assert there(kind="ramp", slope_percent=20, **STOPPED, clear_ahead_mm=800).stops is False
    undated = there(kind="ramp", slope_percent=20, slope_stop_m=0.9, clear_ahead_mm=1000)
    assert not undated.measured and undated.distance_m is None  # it may be of a later day than the paper
    level = there(**STOPPED, clear_ahead_mm=1000)
    assert not level.measured and level.distance_m != 0.9


def test_a_stop_on_a_slope_that_is_shorter_than_one_on_the_level_does_not_count():
    """0.525 m of release and delay and 0.15625 m of braking, by hand: the rule allows for a release that it had not."""
    level_m = 0.5 * 1.05 + 0.25 / (2 * 0.8)
    on = {"kind": "ramp", "slope_percent": 20, "slope_stop_on": date(2026, 3, 24), "clear_ahead_mm": 2000}
    shorter = there(slope_stop_m=level_m - 0.01, **on)
    assert (shorter.distance_m, shorter.stops, shorter.measured) == (None, None, False)
    assert shorter.lacking == "stopping distance on the slope of the door, no shorter than the one on the level"
    assert there(slope_stop_m=level_m, **on).distance_m == level_m
    # where the rule cannot be worked out, what was measured stands
    assert there(slope_stop_m=0.1, chair={}, **on).distance_m == 0.1
    assert there(slope_stop_m=0.1, profiles=({"id": "indoor", "name": "indoor"},), **on).distance_m == 0.1
    assert there(slope_stop_m=0.1, profile=None, **on).distance_m == 0.1


def test_a_ramp_without_its_slope_is_not_taken_as_level():
    place = there(kind="ramp", clear_ahead_mm=900)
    assert (place.stops, place.fastest_m_s, place.lacking) == (None, None, "slope of the door")
    level = there(kind="ramp", slope_percent=0, clear_ahead_mm=900)
    assert level.stops and level.fact == ("stopping", "indoor")


def test_a_place_without_its_profile_or_its_speed_is_not_told():
    fast = {"id": "street", "name": "street", "speed_m_s": 0.7}
    place = there(profile=None, profiles=(PROFILE, fast), clear_ahead_mm=3000)
    assert (place.distance_m, place.stops, place.speed_m_s) == (None, None, None)
    assert place.lacking == "the profile used in the door"
    assert place.fastest_m_s == 0.7 and place.held_to.id == "street"  # the fastest profile holds it
    still = there(profiles=({"id": "indoor", "name": "indoor"},), clear_ahead_mm=3000)
    assert still.lacking == "speed of the indoor profile" and still.stops is None and still.held_to is None
    assert still.fastest_m_s == pytest.approx(1.5)  # 1.5 takes 2.98, 1.55 takes 3.13


@of_each(
    "ahead_from, length_mm, room_m",
    [
        (None, 1000, 1.9),
        ("chair", 1000, 1.9),
        ("way_in", 1000, 0.9),  # 1.9 m less the chair, by hand
        ("way_in", 1900, 0.0),
        ("way_in", 2400, 0.0),
        ("way_in", None, None),
    ],
)
def test_room_told_from_the_way_in_holds_the_chair_too(ahead_from, length_mm, room_m):
    place = there(chair=CHAIR | {"length_mm": length_mm}, clear_ahead_mm=1900, ahead_from=ahead_from)
    assert place.room_m == (None if room_m is None else pytest.approx(room_m, abs=1e-12))
    assert place.stops is (None if room_m is None else room_m > 0.68125)


def test_only_the_profile_used_there_holds_the_speed():
    street = {"id": "street", "name": "street", "speed_m_s": 0.7}
    place = there(profiles=(PROFILE, street), clear_ahead_mm=3000)
    assert (place.fastest_m_s, place.held_to.id) == (0.5, "indoor")


def test_without_the_room_the_distance_is_told_and_nothing_judged():
    place = there()
    assert place.distance_m == pytest.approx(0.68125)
    assert (place.room_m, place.stops, place.margin_m, place.fastest_m_s) == (None, None, None, None)
