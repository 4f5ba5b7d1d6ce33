"""Stopping: worked and published distances, a stop simulated in small steps, the fastest speed."""

from __future__ import annotations

import math
import random

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.evidence.stopping import deceleration_on_slope_m_s2, fastest_speed_m_s, stopping_distance

modest = settings(max_examples=100, deadline=None, derandomize=True)
lags, decelerations = st.floats(0, 5), st.floats(0.05, 10)


@of_each(
    ("speed", "lag_s", "deceleration", "lag_m", "braking_m"),
    [
        # from the formula, by hand
        (0.5, 0.5, 1.0, 0.2500, 0.1250),
        (1.0, 0.5, 2.0, 0.5000, 0.2500),
        (1.0, 1.0, 1.0, 1.0000, 0.5000),
        (1.5, 0.5, 1.5, 0.7500, 0.7500),
        (1.34112, 0.231, 1.0, 0.3098, 0.8993),
        (1.66667, 0.75, 1.5, 1.2500, 0.9259),
        (2.01168, 1.2, 1.5, 2.4140, 1.3490),
        (2.77778, 0.5, 2.5, 1.3889, 1.5432),
    ],
)
def test_worked_distances_are_met(speed, lag_s, deceleration, lag_m, braking_m):
    stop = stopping_distance(speed, 0.4 * lag_s, 0.6 * lag_s, deceleration)
    assert (stop.lag_m, stop.braking_m) == pytest.approx((lag_m, braking_m), abs=6e-5)
    assert stop.total_m == stop.lag_m + stop.braking_m


@pytest.mark.parametrize(
    ("speed", "totals"),
    [
        # delay 0.15 s, 0.8 m/s2, releases 0.3, 0.6, 1.0, 2.0 s: common practice figures, arithmetic by hand
        (0.3, (0.19, 0.28, 0.40, 0.70)),
        (0.5, (0.38, 0.53, 0.73, 1.23)),
        (0.7, (0.62, 0.83, 1.11, 1.81)),
        (1.0, (1.07, 1.38, 1.77, 2.77)),
    ],
)
def test_a_table_of_distances_in_use_is_met(speed, totals):
    for release_s, total in zip((0.3, 0.6, 1.0, 2.0), totals, strict=True):
        # half a unit of the last digit, and 1e-9 for the values printed from an exact half
        assert stopping_distance(speed, release_s, 0.15, 0.8).total_m == pytest.approx(total, abs=0.005 + 1e-9)


def test_the_published_stopping_sight_distance_of_roads_is_met():
    # AASHTO, 60 mph, 2.5 s, 11.2 ft/s2: 566 ft as printed in a state design manual; worked in feet and
    # seconds
    assert stopping_distance(60 * 5280 / 3600, 2.5, 0, 11.2).total_m == pytest.approx(566, abs=0.5)
    # metric form, 3.4 m/s2, 30 and 50 km/h: 31.05 and 63.09 m exactly, printed 31.2 and 63.5 from rounded
    # constants
    for km_h, metres in ((30, 31.05), (50, 63.09)):
        assert stopping_distance(km_h / 3.6, 2.5, 0, 3.4).total_m == pytest.approx(metres, abs=5e-3)


def test_a_ramp_of_one_in_twelve_takes_away_the_part_of_gravity_along_it():
    percent = 100 / 12
    assert 1.5 - deceleration_on_slope_m_s2(1.5, percent) == pytest.approx(0.814398, abs=5e-7)  # by hand
    assert stopping_distance(1, 0, 0, 1.5, percent).braking_m == pytest.approx(0.7293, abs=5e-5)  # by hand
    assert stopping_distance(1, 0, 0, 1.5).braking_m == pytest.approx(0.3333, abs=5e-5)  # by hand
    assert deceleration_on_slope_m_s2(1.5, -percent) == pytest.approx(1.5 + 0.814398, abs=5e-7)


def test_a_slope_too_steep_for_the_brakes_has_no_stopping_distance_and_no_speed():
    assert stopping_distance(0.1, 0.5, 0.1, 0.8, 100 / 12) is None
    assert fastest_speed_m_s(10, 0.5, 0.1, 0.8, 100 / 12) == 0
    just_held = 10 - deceleration_on_slope_m_s2(10, 7)
    assert deceleration_on_slope_m_s2(just_held, 7) == pytest.approx(0, abs=1e-12)
    assert stopping_distance(0.1, 0.5, 0.1, 9.80665 * 0.07 / math.hypot(1, 0.07), 7) is None
    assert fastest_speed_m_s(10, 0.5, 0.1, 9.80665 * 0.07 / math.hypot(1, 0.07), 7) == 0


@pytest.mark.parametrize(
    ("space", "lag_s", "deceleration", "speed"),
    [
        (1, 0.5, 1, 1.0000),
        (1.5, 0.5, 2, 1.6458),
        (2, 1, 1.5, 1.3723),
        (0.75, 0.75, 1, 0.6861),
        (0.5, 1, 2, 0.4495),
    ],
)
def test_worked_speeds_are_met(space, lag_s, deceleration, speed):
    # v = -a t + sqrt(a^2 t^2 + 2 a d), by hand
    assert fastest_speed_m_s(space, 0.25 * lag_s, 0.75 * lag_s, deceleration) == pytest.approx(speed, abs=5e-5)


def _simulated_stop_m(speed: float, lag_s: float, level_deceleration: float, down_percent: float) -> float:
    """Ten thousandths of a second at a time, pushed by gravity and held by the brakes, until it stands."""
    angle = math.atan(down_percent / 100)
    step_s, at_m, time_s = 1e-4, 0.0, 0.0
    while speed > 0:
        braking = time_s + step_s / 2 > lag_s
        slower = speed + (9.80665 * math.sin(angle) - level_deceleration) * step_s if braking else speed
        at_m += max(0.0, speed + slower) / 2 * step_s
        speed, time_s = slower, time_s + step_s
    return at_m


def test_a_stop_simulated_step_by_step_covers_the_same_distance():
    draw = random.Random(71)
    for _ in range(25):
        speed, lag_s, deceleration = draw.uniform(0.1, 2), draw.uniform(0, 1.5), draw.uniform(1, 3)
        down = draw.choice([0, 0, draw.uniform(-8, 6)])
        stop = stopping_distance(speed, lag_s, 0, deceleration, down)
        assert _simulated_stop_m(speed, lag_s, deceleration, down) == pytest.approx(stop.total_m, abs=5e-4)


@modest
@given(st.floats(0.01, 50), lags, lags, decelerations)
def test_the_fastest_speed_just_stops_inside_the_space(space, release_s, delay_s, deceleration):
    speed = fastest_speed_m_s(space, release_s, delay_s, deceleration)
    assert stopping_distance(speed, release_s, delay_s, deceleration).total_m == pytest.approx(space, rel=1e-9)


@modest
@given(st.floats(0.01, 50), lags, lags, decelerations, st.sampled_from([0.01, 0.05, 0.1, 0.25]))
def test_a_rounded_speed_is_a_multiple_of_the_step_stops_inside_and_one_step_more_does_not(
    space, release_s, delay_s, deceleration, step
):
    speed = fastest_speed_m_s(space, release_s, delay_s, deceleration, step_m_s=step)
    assert speed / step == pytest.approx(round(speed / step), abs=1e-6)
    assert stopping_distance(speed, release_s, delay_s, deceleration).total_m <= space * (1 + 1e-9)
    assert stopping_distance(speed + step, release_s, delay_s, deceleration).total_m > space


def test_a_speed_that_is_a_multiple_of_the_step_is_kept():
    assert fastest_speed_m_s(0.375, 0.5, 0, 1.0, step_m_s=0.05) == 0.5
    assert fastest_speed_m_s(0.39, 0.5, 0, 1.0, step_m_s=0.05) == 0.5
    assert fastest_speed_m_s(1.5, 0.5, 0, 1.0, margin_m=0.5) == 1.0
    assert fastest_speed_m_s(0.5, 0.5, 0, 1.0, margin_m=0.5) == 0.0
    assert fastest_speed_m_s(5e-324, 0, 0, 1.0, step_m_s=0.05) == 0.0


@modest
@given(st.floats(0, 5), lags, lags, decelerations, st.floats(0, 4))
def test_a_slower_release_or_a_steeper_fall_never_stops_sooner(speed, release_s, delay_s, deceleration, down):
    here = stopping_distance(speed, release_s, delay_s, deceleration, down)
    for other in (
        stopping_distance(speed, release_s + 0.5, delay_s, deceleration, down),
        stopping_distance(speed, release_s, delay_s, deceleration, down + 0.5),
    ):
        assert other is None or here.total_m <= other.total_m


@of_each(
    ("call", "words"),
    [
        (lambda: stopping_distance(-1, 0, 0, 1), "speed_m_s must be at least 0 .*, not -1"),
        (lambda: stopping_distance(1, math.nan, 0, 1), "release_s must be a number, not nan"),
        (lambda: stopping_distance(1, 0, 0, 0), "deceleration_m_s2 must be more than 0 .*, not 0"),
        (lambda: stopping_distance(1, 0, 0, 1, 300), "down_percent must be .*, not 300"),
        (lambda: fastest_speed_m_s(-1, 0, 0, 1), "space_m must be at least 0 .*, not -1"),
        (lambda: fastest_speed_m_s(1, 0, 0, 1, step_m_s=0), "step_m_s must be .*, not 0"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()


@pytest.mark.parametrize("down", [-100, 100])
def test_the_steepest_slope_taken_is_as_far_down_as_along(down):
    left = deceleration_on_slope_m_s2(20.0, down)
    assert left == pytest.approx(20.0 - math.copysign(9.80665 / math.sqrt(2), down))
    with pytest.raises(ValueError, match="down_percent"):
        deceleration_on_slope_m_s2(20.0, down * 1.001)


def test_a_step_of_a_thousandth_of_a_millimetre_a_second_is_the_least():
    assert fastest_speed_m_s(1.0, 0.5, 0, 1.0, step_m_s=1.05e-6) == pytest.approx(1.0, abs=1.05e-6)
    with pytest.raises(ValueError, match="step_m_s"):
        fastest_speed_m_s(1.0, 0.5, 0, 1.0, step_m_s=0.99e-6)


def test_a_margin_is_kept_free_and_none_is_kept_unasked():
    assert fastest_speed_m_s(1.3, 0.3, 0.2, 1.0, margin_m=0.3) == pytest.approx(1.0)  # 1 m, 0.5 s, 1 m/s2, by hand
    assert fastest_speed_m_s(1.0, 0.3, 0.2, 1.0) == pytest.approx(1.0)
    assert fastest_speed_m_s(0.3, 0.3, 0.2, 1.0, margin_m=0.3) == 0.0
