"""Space to turn: worked circles, paths and corners, shapes turned step by step, the lengths of the law."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Point, box

from docgen.evidence.spaces import (
    PUBLIC_SPACES,
    equal_corridors_mm,
    longest_round_corner_mm,
    pivot_circle_mm,
    public_space,
    spare_mm,
    swept_path_mm,
)

modest = settings(max_examples=60, deadline=None, derandomize=True)
INCH = 25.4


@pytest.mark.parametrize(
    ("width", "front", "rear", "diameter"),
    [
        (630, 535, 535, 1241.7),
        (630, 870, 200, 1850.5),
        (630, 300, 770, 1663.9),  # from the formula, by hand
        (30 * INCH, 24 * INCH, 24 * INCH, 1437.7),  # a 30 x 48 in box about its centre, 56.60 in, by hand
    ],
)
def test_worked_pivot_circles_are_met(width, front, rear, diameter):
    assert pivot_circle_mm(width, front, rear) == pytest.approx(diameter, abs=0.05)


def test_a_chair_turned_step_by_step_stays_inside_its_circle_and_reaches_it():
    draw = random.Random(91)
    for _ in range(20):
        width, front, rear = draw.uniform(500, 800), draw.uniform(100, 900), draw.uniform(100, 900)
        chair = box(-rear, -width / 2, front, width / 2)
        circle = pivot_circle_mm(width, front, rear)
        furthest = max(
            math.hypot(*corner)
            for turn in range(0, 360, 15)
            for corner in affinity.rotate(chair, turn, (0, 0)).exterior.coords
        )
        assert 2 * furthest == pytest.approx(circle)


def test_a_worked_swept_path_is_met():
    path = swept_path_mm(1000, 630, 600)  # from the formula, by hand
    assert (path.outer_radius_mm, path.inner_radius_mm, path.width_mm) == pytest.approx(
        (1445.4, 685.0, 760.4), abs=0.05
    )


def test_a_chair_driven_round_step_by_step_keeps_between_its_two_circles():
    draw = random.Random(92)
    for _ in range(20):
        radius, width = draw.uniform(0, 2500), draw.uniform(500, 800)
        front, rear = draw.uniform(0, 900), draw.uniform(0, 900)
        path, centre = swept_path_mm(radius, width, front, rear), Point(0, 0)
        chair = box(radius - width / 2, -rear, radius + width / 2, front)
        assert centre.distance(chair) == pytest.approx(path.inner_radius_mm, abs=1e-6)
        assert centre.hausdorff_distance(chair) == pytest.approx(path.outer_radius_mm, rel=1e-9)


def test_turning_on_the_spot_is_a_swept_path_of_no_radius():
    assert 2 * swept_path_mm(0, 630, 535, 300).outer_radius_mm == pytest.approx(pivot_circle_mm(630, 535, 300))


@pytest.mark.parametrize(
    ("width", "a", "b", "length"),
    [
        # least of the corner formula, also by numeric minimum
        (30, 36, 36, 41.82),
        (25, 36, 36, 51.82),
        (30, 40, 40, 53.14),
        (26, 42, 42, 66.79),
        (25, 36, 32, 45.98),
        (30, 48, 36, 57.49),
        (0, 1, 1, 2.83),
        (0, 8, 27, 46.87),
    ],
)
def test_worked_corners_are_met(width, a, b, length):
    assert longest_round_corner_mm(width * INCH, a * INCH, b * INCH) == pytest.approx(length * INCH, abs=0.005 * INCH)


@modest
@given(st.floats(100, 3000), st.floats(100, 3000))
def test_a_box_of_no_width_is_the_ladder_of_the_calculus_books(a, b):
    assert longest_round_corner_mm(0, a, b) == pytest.approx((a ** (2 / 3) + b ** (2 / 3)) ** 1.5, rel=1e-9)


@modest
@given(st.floats(100, 3000), st.floats(100, 3000), st.floats(0.01, 0.99))
def test_the_corner_is_the_least_over_a_grid_of_angles(a, b, part):
    width = part * min(a, b)
    angles = [math.pi / 2 * step / 2000 for step in range(1, 2000)]
    least = min((a * math.cos(t) + b * math.sin(t) - width) / (math.sin(t) * math.cos(t)) for t in angles)
    assert longest_round_corner_mm(width, a, b) == pytest.approx(least, rel=1e-4)
    assert longest_round_corner_mm(width, a, b) <= least * (1 + 1e-9)
    assert longest_round_corner_mm(width, a, b) == pytest.approx(longest_round_corner_mm(width, b, a), rel=1e-9)


def test_two_corridors_of_36_inches_are_not_enough_for_a_box_of_30_by_48():
    needed = equal_corridors_mm(30 * INCH, 48 * INCH) / INCH
    assert needed == pytest.approx(38.18, abs=0.005)  # (48 / 2 + 30) / sqrt 2, by hand
    assert longest_round_corner_mm(30 * INCH, 36 * INCH, 36 * INCH) < 48 * INCH
    assert longest_round_corner_mm(30 * INCH, needed * INCH, needed * INCH) == pytest.approx(48 * INCH)


def test_a_box_wider_than_a_corridor_does_not_get_round():
    assert longest_round_corner_mm(900, 900, 2000) == 0


@pytest.mark.parametrize(
    ("space_id", "inches", "printed_mm", "section"),
    [
        # 2010 ADA Standards
        ("turning_circle", 60, 1525, "304.3.1"),
        ("t_turn_square", 60, 1525, "304.3.2"),
        ("t_turn_arm", 36, 915, "304.3.2"),
        ("t_turn_arm_clear", 12, 305, "304.3.2"),
        ("t_turn_base_clear", 24, 610, "304.3.2"),
        ("floor_width", 30, 760, "305.3"),
        ("floor_length", 48, 1220, "305.3"),
        ("route_width", 36, 915, "403.5.1"),
        ("route_narrow_width", 32, 815, "403.5.1"),
        ("route_narrow_length", 24, 610, "403.5.1"),
        ("u_turn_width", 48, 1220, "403.5.2"),
        ("passing_square", 60, 1525, "403.5.3"),
        ("door_width", 32, 815, "404.2.3"),
        ("ramp_width", 36, 915, "405.5"),
    ],
)
def test_the_lengths_of_the_law_are_met(space_id, inches, printed_mm, section):
    space = public_space(space_id)
    assert (space.inches, space.printed_mm, space.section) == (inches, printed_mm, section)


def test_the_printed_millimetres_are_the_inches_rounded_to_5():
    for space in PUBLIC_SPACES:
        assert space.printed_mm == 5 * round(space.inches * INCH / 5)
    assert len({space.id for space in PUBLIC_SPACES}) == len(PUBLIC_SPACES)


def test_a_30_by_48_box_turns_inside_the_circle_of_the_law():
    needed = pivot_circle_mm(30 * INCH, 24 * INCH, 24 * INCH)
    assert needed / INCH == pytest.approx(56.60, abs=0.005)  # by hand
    assert spare_mm("turning_circle", needed) == pytest.approx(86.3, abs=0.05)
    assert spare_mm("door_width", 25 * INCH) / 2 == pytest.approx(88.9)  # 3.5 in each side, by hand
    assert spare_mm("door_width", 815) < 0 < spare_mm("door_width", 812)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: pivot_circle_mm(0, 1, 1), "width_mm must be more than 0 .*, not 0"),
        (lambda: swept_path_mm(-1, 600, 500), "radius_mm must be at least 0 .*, not -1"),
        (lambda: longest_round_corner_mm(1, 0, 5), "corridor_1_mm must be more than 0 .*, not 0"),
        (lambda: equal_corridors_mm(600, 500), "length_mm must be at least 600 .*, not 500"),
        (lambda: public_space("garage"), "space_id must be one of turning_circle, .*, not 'garage'"),
        (lambda: spare_mm("door_width", math.nan), "needed_mm must be a number, not nan"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
