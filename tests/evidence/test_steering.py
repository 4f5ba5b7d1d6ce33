"""Steering: worked turns, and doorways driven through step by step with polygons."""

from __future__ import annotations

import math
import random

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import box

from docgen.evidence.steering import (
    doorway_heading_error_deg,
    smallest_heading_change_deg,
    turn_rate_for_doorways,
    turn_rate_for_heading_deg_s,
    veer_radius_m,
)

modest = settings(max_examples=100, deadline=None, derandomize=True)
rates, activations, lags, slowings = st.floats(0, 200), st.floats(0.02, 3), st.floats(0, 1), st.floats(5, 900)


@pytest.mark.parametrize(
    ("rate", "activation_s", "lag_s", "slowing", "degrees"),
    [
        # from the formula, by hand
        (30, 0.25, 0, None, 7.5),
        (60, 0.5, 0, None, 30),
        (45, 1.2, 0, None, 54),
        (60, 0.15, 0.20, 240, 28.5),
    ],
)
def test_worked_heading_changes_are_met_and_lead_back(rate, activation_s, lag_s, slowing, degrees):
    assert smallest_heading_change_deg(rate, activation_s, lag_s, slowing) == pytest.approx(degrees)
    assert turn_rate_for_heading_deg_s(degrees, activation_s, lag_s, slowing) == pytest.approx(rate)


def test_a_turn_that_stops_at_once_is_taken_where_nothing_is_said():
    assert smallest_heading_change_deg(30, 0.25) == pytest.approx(7.5)  # by hand
    assert turn_rate_for_heading_deg_s(7.5, 0.25) == pytest.approx(30)


def test_a_turn_simulated_step_by_step_changes_the_heading_as_much():
    draw = random.Random(81)
    for _ in range(20):
        rate, activation_s, lag_s = draw.uniform(5, 90), draw.uniform(0.05, 1), draw.uniform(0, 0.4)
        slowing = draw.uniform(40, 400)
        heading, now, time_s, step_s = 0.0, rate, 0.0, 1e-4
        while now > 0:
            slower = now - slowing * step_s if time_s + step_s / 2 > activation_s + lag_s else now
            heading += max(0.0, now + slower) / 2 * step_s
            now, time_s = slower, time_s + step_s
        assert smallest_heading_change_deg(rate, activation_s, lag_s, slowing) == pytest.approx(heading, abs=0.02)


@modest
@given(rates, activations, lags, st.none() | slowings)
def test_the_turn_rate_leads_back_from_the_heading_change(rate, activation_s, lag_s, slowing):
    degrees = smallest_heading_change_deg(rate, activation_s, lag_s, slowing)
    assert turn_rate_for_heading_deg_s(degrees, activation_s, lag_s, slowing) == pytest.approx(rate, abs=1e-9)


@modest
@given(rates, activations, lags, slowings)
def test_a_longer_activation_a_longer_lag_or_any_coast_turns_further(rate, activation_s, lag_s, slowing):
    here = smallest_heading_change_deg(rate, activation_s, lag_s, slowing)
    assert here <= smallest_heading_change_deg(rate, activation_s + 0.1, lag_s, slowing)
    assert here <= smallest_heading_change_deg(rate, activation_s, lag_s + 0.1, slowing)
    assert here >= smallest_heading_change_deg(rate, activation_s, lag_s)


def _touches(error_deg, clear, wall, width, length, approach, front, offset, side):
    """Whether a chair driven straight through at this error meets a jamb, 10 mm of driving at a time."""
    jambs = box(0, clear / 2, wall, clear / 2 + 3000).union(box(0, -clear / 2 - 3000, wall, -clear / 2))
    error = math.radians(error_deg) * side
    straight = box(front - length, -width / 2, front, width / 2)
    chair = affinity.rotate(straight, error, (0, 0), use_radians=True)
    start_x = -(approach + front)
    way = (approach + wall + 2 * length + width) / math.cos(error)
    for step in range(int(way / 10) + 1):
        driven = 10 * step
        along, across = driven * math.cos(error), driven * math.sin(error)
        moved = affinity.translate(chair, start_x + along, offset + across)
        if moved.intersects(jambs) and moved.intersection(jambs).area > 1e-6:
            return True
    return False


def test_doorways_driven_through_step_by_step_forgive_exactly_the_stated_error():
    draw = random.Random(82)
    for _ in range(25):
        width, length = draw.uniform(500, 720), draw.uniform(800, 1300)
        clear, wall = width + draw.uniform(10, 350), draw.choice([0.5, draw.uniform(50, 300)])
        approach, front = draw.choice([0, draw.uniform(0, 1500)]), draw.uniform(0.2, 0.9) * length
        offset = draw.choice([0, draw.uniform(0, (clear - width) / 2)])
        error = doorway_heading_error_deg(clear, wall, width, length, approach, front, offset)
        measures = (clear, wall, width, length, approach, front, offset)
        assert not _touches(max(0.0, error - 0.02), *measures, side=1), measures
        assert not _touches(max(0.0, error - 0.02), *measures, side=-1), measures
        assert _touches(error + 0.05, *measures, side=1), measures


def test_a_worked_doorway():
    # clear 800, no wall, width 600, pivot 1000 before the door: 1000 sin e + 300 = 400 cos e, by hand
    error = doorway_heading_error_deg(800, 0, 600, 2000, 0)
    assert error == pytest.approx(5.63, abs=0.005)
    assert 1000 * math.sin(math.radians(error)) + 300 == pytest.approx(400 * math.cos(math.radians(error)))


def test_a_doorway_the_chair_fills_forgives_nothing_and_a_narrower_one_cannot_be_passed():
    assert doorway_heading_error_deg(640, 100, 640, 1100, 300) == pytest.approx(0, abs=1e-9)
    assert doorway_heading_error_deg(639, 100, 640, 1100, 300) is None
    assert doorway_heading_error_deg(740, 100, 640, 1100, 300, offset_mm=51) is None


@pytest.mark.parametrize("scale", [1e-5, 1e-3, 10])
def test_a_doorway_forgives_as_much_at_any_scale(scale):
    measures = (800, 100, 600, 1100, 300, 500, 40)
    here = doorway_heading_error_deg(*measures)
    assert doorway_heading_error_deg(*(scale * length for length in measures)) == pytest.approx(here)


def test_a_pivot_at_the_very_front_is_taken_and_no_error_is_below_nought():
    front = doorway_heading_error_deg(800, 0, 600, 1100, 1000, 0)
    assert 1000 * math.sin(math.radians(front)) + 300 == pytest.approx(400 * math.cos(math.radians(front)))
    assert all(doorway_heading_error_deg(width, 100, width, 1100, 300) >= 0 for width in range(400, 900))


@modest
@given(st.floats(700, 1200), st.floats(0, 400), st.floats(400, 700), st.floats(700, 1400), st.floats(0, 3000))
def test_a_wider_door_a_thinner_wall_a_later_correction_forgive_more(clear, wall, width, length, approach):
    here = doorway_heading_error_deg(clear, wall, width, length, approach)
    assert 0 <= here < 90
    slack = 1e-9
    assert here - slack <= doorway_heading_error_deg(clear + 20, wall, width, length, approach)
    assert here - slack <= doorway_heading_error_deg(clear, wall, width - 20, length, approach)
    assert here + slack >= doorway_heading_error_deg(clear, wall + 20, width, length, approach)
    assert here + slack >= doorway_heading_error_deg(clear, wall, width, length, approach + 100)
    assert here + slack >= doorway_heading_error_deg(clear, wall, width, length, approach, length)


def test_the_tightest_doorway_decides_the_turn_rate():
    found = turn_rate_for_doorways({"kitchen": 9.0, "bathroom": 7.5}, 0.25)
    assert (found.tightest, found.allowed_deg) == ("bathroom", 7.5)
    assert found.turn_rate_deg_s == pytest.approx(30)
    assert turn_rate_for_doorways({"lift": 0.0}, 0.25, 0.1, 200).turn_rate_deg_s == 0


def test_the_arc_of_rear_and_side_pads_together():
    # wheels 0.56 m apart at 0.6 and 0.3 m/s: (0.6 - 0.3) / 0.56 rad/s and R = 0.28 x 0.9 / 0.3, by hand
    assert veer_radius_m(0.45, math.degrees(0.3 / 0.56)) == pytest.approx(0.28 * 0.9 / 0.3)
    assert math.degrees(0.3 / 0.56) == pytest.approx(30.694, abs=5e-4)
    assert veer_radius_m(0, 20) == 0


@of_each(
    ("call", "words"),
    [
        (lambda: smallest_heading_change_deg(30, 0), "activation_s must be more than 0 .*, not 0"),
        (lambda: smallest_heading_change_deg(30, 0.2, 0, 0), "turn_deceleration_deg_s2 must be more than 0"),
        (lambda: turn_rate_for_heading_deg_s(-1, 0.2), "heading_deg must be at least 0 .*, not -1"),
        (lambda: doorway_heading_error_deg(800, 0, 0, 1000, 0), "chair_width_mm must be more than 0 .*, not 0"),
        (lambda: doorway_heading_error_deg(800, 0, 600, 1000, 0, 1001), "pivot_to_front_mm must be .*, not 1001"),
        (lambda: turn_rate_for_doorways({}, 0.2), "allowed_deg must hold at least one doorway"),
        (lambda: turn_rate_for_doorways({"hall": -1}, 0.2), r"allowed_deg\[hall\] must be .*, not -1"),
        (lambda: veer_radius_m(0.3, 0), "turn_rate_deg_s must be more than 0 .*, not 0"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
