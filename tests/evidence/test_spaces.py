"""Space to turn: worked circles, paths and corners, shapes turned step by step, the lengths of the law."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import settings
from shapely import affinity
from shapely.geometry import box

from docgen.evidence.spaces import (
    PUBLIC_SPACES,
    pivot_circle_mm,
    public_space,
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


def test_a_chair_that_turns_about_its_front_and_rear_needs_its_width():
    assert pivot_circle_mm(630, 0, 0) == 630


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


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: pivot_circle_mm(0, 1, 1), "width_mm must be more than 0 .*, not 0"),
        (lambda: public_space("garage"), "space_id must be one of turning_circle, .*, not 'garage'"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
