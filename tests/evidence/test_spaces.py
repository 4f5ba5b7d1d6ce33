"""Space to turn: worked circles, paths and corners, shapes turned step by step, the lengths of the law."""

from __future__ import annotations

import math
import random

import pytest
from gathered import of_each
from hypothesis import settings
from shapely import affinity
from shapely.geometry import box

from docgen.evidence.spaces import (
    PUBLIC_SPACES,
    corner_width_mm,
    most_slant_deg,
    pivot_circle_mm,
    public_space,
)

modest = settings(max_examples=60, deadline=None, derandomize=True)
INCH = 25.4


@of_each(
    ("width", "front", "rear", "diameter"),
    [
        (630, 535, 535, 1241.7),
        (630, 870, 200, 1850.5),
        (630, 300, 770, 1663.9),  # from the formula, by hand
        # a mean power chair as measured, 1414 by 827 mm: driven at its middle, and 350 mm from its rear, by hand
        (827, 707, 707, 1638.1),
        (827, 1064, 350, 2283.05),
        (30 * INCH, 24 * INCH, 24 * INCH, 1437.7),  # a 30 x 48 in box about its centre, 56.60 in, by hand
    ],
)
def test_worked_pivot_circles_are_met(width, front, rear, diameter):
    assert pivot_circle_mm(width, front, rear) == pytest.approx(diameter, abs=0.05)


@pytest.mark.parametrize(("width", "longest"), [(660, 1375), (760, 1322), (827, 1281)])
def test_the_longest_chair_of_a_width_just_fits_the_turning_circle_of_the_law(width, longest):
    """1525 mm: 2010 ADA Standards 304.3.1; the lengths by hand, as root of the square less that of the width."""
    assert pivot_circle_mm(width, longest / 2, longest / 2) == pytest.approx(1525, abs=0.5)


@pytest.mark.parametrize(("slant", "takes_up"), [(0, 660), (5, 762), (8, 821)])
def test_a_slant_fits_what_it_takes_up(slant, takes_up):
    """660 by 1200 mm, by hand: at 8 degrees it no longer passes the 815 mm of 2010 ADA Standards 404.2.3."""
    assert most_slant_deg(660, 1200, takes_up) == pytest.approx(slant, abs=0.05)
    turned = affinity.rotate(box(0, 0, 660, 1200), most_slant_deg(660, 1200, 815)).bounds
    assert turned[2] - turned[0] == pytest.approx(815)


def test_no_slant_fits_a_door_that_the_chair_does_not_and_every_one_where_its_diagonal_does():
    assert (most_slant_deg(660, 1200, 600), most_slant_deg(660, 1200, 1370)) == (0, 90)


@pytest.mark.parametrize(("length", "width", "needs"), [(1414, 827, 1085), (1200, 660, 891)])
def test_a_corner_in_one_sweep_needs_the_worked_width(length, width, needs):
    """By hand; of people in power chairs 95% rounded 1000 mm in several moves (Anthropometry of Wheeled Mobility)."""
    assert corner_width_mm(width, length) == pytest.approx(needs, abs=0.5)


def test_doors_and_corners_are_worked_out_at_any_scale():
    """A triangle of 0.6, 0.8 and 1, by hand."""
    assert (most_slant_deg(0.6, 0.8, 1.0), most_slant_deg(0.6, 0.8, 0.5)) == (90, 0)
    assert corner_width_mm(0.6, 0.8) == pytest.approx(math.sqrt(0.5))


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


@of_each(
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
