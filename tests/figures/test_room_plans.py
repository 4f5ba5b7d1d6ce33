"""Each place from above, to one scale: what is drawn is measured and held against the record."""

from __future__ import annotations

import math

import pytest
from gathered import of_each
from support import ASSESSED

from docgen.case.model import Case
from docgen.evidence.gather import evidence
from docgen.evidence.spaces import public_space
from docgen.evidence.stopping_rule import late_on_slope_m
from docgen.figures.room_plans import WORDS, place_plan, points_per_mm, scene
from docgen.packet.wording import language_words
from docgen.scene import Circle, Line, Rect, Text

ALL_WORDS = {**WORDS, **language_words()["figures"]}
CHAIR = {"width_mm": 650, "length_mm": 1140, "turning_mm": 1330}
PLACES = {
    "door": {"kind": "doorway", "clear_width_mm": 850, "clear_ahead_mm": 2050, "ahead_from": "way_in"},
    "room": {"kind": "turning", "turning_mm": 1800, "clear_ahead_mm": 1600, "ahead_from": "chair"},
    "hall": {"kind": "corridor", "clear_width_mm": 1150, "clear_ahead_mm": 2400, "ahead_from": "chair"},
    "lift": {"kind": "elevator", "clear_width_mm": 900, "inside_width_mm": 1100, "clear_ahead_mm": 1800}
    | {"ahead_from": "way_in"},
}


def case_with(*places, **chair):
    """A case with these places of the table above, and a chair with these measures."""
    return Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "robin-example",
            "spaces": [{"id": name, "name": name, "profile": "slow"} | PLACES[name] for name in places],
            "configuration": {
                "method": "pads",
                "chair": CHAIR | chair,
                "profiles": [{"id": "slow", "name": "slow", "speed_m_s": 0.3}],
            },
        }
    )


def plans_of(case):
    plans = (place_plan(there, case.configuration.chair) for there in evidence(case).stopping.places)
    return {plan.name: plan for plan in plans if plan}


def drawn(case):
    return scene(case, evidence(case), ALL_WORDS)


def spans(case, name):
    """The drawing of one place, and how many mm a point of it stands for."""
    one = drawn(case)
    return one, 1 / points_per_mm(list(plans_of(case).values()), 650, 1140)


def test_the_length_of_the_chair_is_taken_off_what_is_measured_from_the_way_in():
    plans = plans_of(case_with(*PLACES))
    assert [round(plans[name].ahead_mm) for name in PLACES] == [910, 1600, 2400, 660]


def test_what_is_left_beside_the_chair_is_the_clear_width_less_its_own():
    plans = plans_of(case_with(*PLACES))
    assert [plans[name].beside_mm for name in PLACES] == [200, None, 500, 450]


def test_a_chair_on_the_floor_space_of_the_law_turns_on_its_circle_and_leaves_its_route_as_wide_as_it_says():
    """2010 ADA Standards: clear floor 30 by 48 in (305.3), circle of 60 in (304.3.1), route of 36 in (403.5.1)."""
    floor = {"width_mm": public_space("floor_width").inches * 25.4}
    floor |= {"length_mm": public_space("floor_length").inches * 25.4, "turning_mm": None}
    case = case_with("room", "hall", **floor)
    spaces = tuple(
        space.model_copy(update={"turning_mm": 60 * 25.4} if space.id == "room" else {"clear_width_mm": 36 * 25.4})
        for space in case.spaces
    )
    plans = plans_of(case.model_copy(update={"spaces": spaces}))
    assert plans["room"].turn_mm == pytest.approx(56.6 * 25.4, abs=1) and plans["room"].turn_mm < 60 * 25.4
    assert plans["hall"].beside_mm == pytest.approx(6 * 25.4)


def test_a_turning_circle_smaller_than_the_diagonal_is_not_believed():
    assert plans_of(case_with("room", turning_mm=1000))["room"].turn_mm == pytest.approx(math.hypot(650, 1140))


@pytest.mark.parametrize("name", PLACES)
def test_the_chair_is_drawn_in_its_measures_and_what_is_free_ahead_of_it(name):
    case = case_with(name)
    one, mm = spans(case, name)
    (chair,) = [shape for shape in one.shapes if isinstance(shape, Rect) and shape.fill == 0.15]
    assert (chair.w * mm, chair.h * mm) == (pytest.approx(650), pytest.approx(1140))
    middle = chair.x + chair.w / 2
    ends = [s for s in one.shapes if isinstance(s, Line) and s.width == 2.4 and s.y1 == s.y2]
    assert [(chair.y - end.y1) * mm for end in ends] == [pytest.approx(plans_of(case)[name].ahead_mm)]
    assert all((end.x1 + end.x2) / 2 == pytest.approx(middle) for end in ends)


@pytest.mark.parametrize(("name", "clear_mm"), [("door", 850), ("hall", 1150), ("lift", 1100)])
def test_walls_and_jambs_stand_as_far_apart_as_was_measured(name, clear_mm):
    one, mm = spans(case_with(name), name)
    walls = [s for s in one.shapes if isinstance(s, Line) and (s.width == 3.2 or (s.width == 2.4 and s.x1 == s.x2))]
    left, right = sorted(wall.x1 for wall in walls)
    assert (right - left) * mm == pytest.approx(clear_mm)


def test_the_floor_to_turn_on_and_the_turn_are_circles_round_the_chair():
    one, mm = spans(case_with("room"), "room")
    assert [2 * shape.r * mm for shape in one.shapes if isinstance(shape, Circle)] == [
        pytest.approx(1800),
        pytest.approx(1330),
    ]


@of_each("demo", ASSESSED)
def test_what_a_stop_needs_is_drawn_as_worked_out_and_a_place_too_short_for_it_says_so(demo):
    assessed = ASSESSED[demo]
    places = [there for there in assessed.evidence.stopping.places if there.distance_m is not None]
    one = scene(assessed.file.case, assessed.evidence, ALL_WORDS)
    chair = assessed.file.case.configuration.chair
    plans = [plan for there in assessed.evidence.stopping.places if (plan := place_plan(there, chair))]
    per_mm = points_per_mm(plans, chair.width_mm, chair.length_mm)
    gray = [shape.h / per_mm / 1000 for shape in one.shapes if isinstance(shape, Rect) and shape.fill == 0.75]
    rule = assessed.evidence.stopping  # of a stop measured on a slope the whole release may come on top
    late = [late_on_slope_m(there.space, there.speed_m_s, rule.release) if there.measured else None for there in places]
    assert gray == [pytest.approx(late_m or there.distance_m) for late_m, there in zip(late, places, strict=True)]
    short = [there for there in places if there.stops is False]
    assert one.alt.count(WORDS["plans_short"]) == len(short)
    texts = [shape.text for shape in one.shapes if isinstance(shape, Text)]
    assert texts.count(WORDS["plans_short"]) == len(short)


@pytest.mark.parametrize("lacks", ["width_mm", "length_mm"])
def test_without_the_measures_of_the_chair_or_of_any_place_nothing_is_drawn(lacks):
    assert drawn(case_with(*PLACES, **{lacks: None})) is None
    assert drawn(case_with()) is None


def test_a_stop_that_cannot_be_told_is_said_to_be_unknown():
    assert drawn(case_with("hall")).alt.count(WORDS["plans_no_stop"]) == 1


@of_each("demo", ASSESSED)
def test_nothing_is_drawn_outside_the_sheet(demo):
    assessed = ASSESSED[demo]
    one = scene(assessed.file.case, assessed.evidence, ALL_WORDS)
    for shape in one.shapes:
        if isinstance(shape, Rect):
            assert min(shape.x, shape.y) >= 0 and shape.x + shape.w <= one.w and shape.y + shape.h <= one.h
        elif isinstance(shape, Circle):
            assert shape.r <= shape.x <= one.w - shape.r and shape.r <= shape.y <= one.h - shape.r
        elif isinstance(shape, Line):
            assert all(-1 <= x <= one.w + 1 for x in (shape.x1, shape.x2)) and min(shape.y1, shape.y2) >= 0
