"""Doors, corrections, curves and turning: worked from right triangles and sums by hand."""

from __future__ import annotations

import math

import pytest
from gathered import of_each
from small_trial import attempt, known, small_case

from docgen.evidence.facts import steering

TOUCHES = [attempt(at, hold_s=0.25) for at in range(2, 8)]  # 6 alike: the median and its limits are 0.25 s
# 300 mm to the wall and 700 mm to the axle: 1000 sin e + 300 = 400 cos e, which is 5.63 degrees
CHAIR = {"width_mm": 600, "length_mm": 900, "axle_to_front_mm": 700}
DOOR = {"id": "d", "name": "door", "kind": "doorway", "clear_width_mm": 800}


def facts_with(chair=CHAIR, rows=TOUCHES, spaces=(DOOR,), **configuration):
    return known(steering.facts, small_case(rows, spaces=list(spaces), configuration={"chair": chair} | configuration))


@pytest.mark.parametrize("axle_and_length", [(700, 900), (1200, 700)])  # an axle cannot lie behind the chair
def test_a_door_forgives_the_angle_at_which_the_chair_just_passes(axle_and_length):
    axle, length = axle_and_length
    fact = facts_with(CHAIR | {"axle_to_front_mm": axle, "length_mm": length})["allowed.d"]
    error = math.radians(fact.value)
    assert 1000 * math.sin(error) + 300 == pytest.approx(400 * math.cos(error), rel=1e-9)
    assert fact.value == pytest.approx(5.63, abs=5e-3) and fact.n == 1
    assert fact.note == "assumes the last correction 300 mm before the wall; assumes a thin wall"


def test_the_wall_and_the_last_correction_count_where_they_are_recorded():
    fact = facts_with(spaces=[DOOR | {"wall_mm": 100, "approach_mm": 200}])["allowed.d"]
    assert fact.value == pytest.approx(5.63, abs=5e-3) and fact.note == ""  # 200 + 100 + 700 is 1000 too
    assert facts_with(spaces=[DOOR | {"approach_mm": 300}])["allowed.d"].note == "assumes a thin wall"
    narrow = facts_with(spaces=[DOOR | {"clear_width_mm": 590}])["allowed.d"]
    assert narrow.value is None and narrow.note.endswith("the chair is wider than the door")


@pytest.mark.parametrize(
    ("of_turns", "lacks"),
    [
        ({}, "the delay of the electronics and how fast a turn slows"),
        ({"electronics_delay_s": 0.1}, "how fast a turn slows"),
        ({"turn_deceleration_deg_s2": 240}, "the delay of the electronics"),
    ],
)
def test_without_how_a_turn_ends_no_turn_rate_is_told(of_turns, lacks):
    facts = facts_with(CHAIR | of_turns, profiles=[{"id": "p", "name": "p", "turn_deg_s": 60}])
    assert (facts["turn_rate.d"].value, facts["turn_rate.d"].note) == (None, lacks)
    assert "turn_rate_all_doors" not in facts


def test_too_few_touches_bear_no_turn_rate_and_no_correction():
    ends = {"electronics_delay_s": 0.1, "turn_deceleration_deg_s2": 240}
    profiles = [{"id": "p", "name": "p", "turn_deg_s": 60}]
    for rows in (TOUCHES[:5], []):
        facts = facts_with(CHAIR | ends, rows, profiles=profiles)
        assert "allowed.d" in facts and not {"turn_rate.d", "turn_rate_all_doors", "correction.p"} & set(facts)
    assert {"turn_rate.d", "turn_rate_all_doors", "correction.p"} <= set(facts_with(CHAIR | ends, profiles=profiles))


@pytest.mark.parametrize(
    ("of_turns", "degrees", "note"),
    [
        # 60 degrees/s for 0.25 s, 0.2 s of delay, and 60^2 / (2 x 240), by hand
        ({"electronics_delay_s": 0.2, "turn_deceleration_deg_s2": 240}, 15 + 12 + 7.5, ""),
        ({"electronics_delay_s": 0.2}, 15 + 12, "at least: how fast a turn slows is not recorded"),
        ({"turn_deceleration_deg_s2": 240}, 15 + 7.5, "at least: the delay of the electronics is not recorded"),
        ({}, 15, "at least: the delay of the electronics and how fast a turn slows are not recorded"),
    ],
)
def test_the_smallest_correction_says_what_it_leaves_out(of_turns, degrees, note):
    fact = facts_with(CHAIR | of_turns, profiles=[{"id": "p", "name": "p", "turn_deg_s": 60}])["correction.p"]
    assert fact.value == pytest.approx(degrees) and fact.note == note


@pytest.mark.parametrize(
    ("features", "speed", "radius"),
    [
        (["head_array", "momentary_drive"], 0.5, 0.5),  # 0.5 m/s at one radian a second
        (["momentary_drive"], 0.5, None),
        ([], 0.5, None),
        (["head_array"], None, None),
    ],
)
def test_rear_and_side_pad_together_drive_a_curve_at_a_known_speed(features, speed, radius):
    profile = {"id": "p", "name": "p", "speed_m_s": speed, "turn_deg_s": math.degrees(1)}
    facts = facts_with(features=[{"id": name, "because": []} for name in features], profiles=[profile])
    fact = facts.get("veer.p")
    assert (fact and (pytest.approx(fact.value), fact.n)) == (None if radius is None else (radius, 1))


@of_each(
    ("chair", "circle_mm"),
    [
        # half the width 600 and 800 to the farther end: a radius of 1000
        ({"width_mm": 1200, "length_mm": 1400, "axle_to_front_mm": 600}, 2000),
        ({"width_mm": 1200, "length_mm": 1400, "axle_to_front_mm": 800}, 2000),
        ({"width_mm": 1200, "length_mm": 800, "axle_to_front_mm": 900}, 2000),  # no further than the chair is long
        ({"width_mm": 1200, "length_mm": 1400, "axle_to_front_mm": 600, "turning_mm": 1900}, 1900),
        ({"length_mm": 1400, "axle_to_front_mm": 600}, None),
        ({"width_mm": 1200, "axle_to_front_mm": 600}, None),
        ({"width_mm": 1200, "length_mm": 1400}, None),
    ],
)
def test_the_turning_diameter_is_as_recorded_or_swept_by_the_farther_end(chair, circle_mm):
    room = {"id": "r", "name": "room", "kind": "turning", "turning_mm": 2250}
    facts = facts_with(chair, spaces=[room, DOOR])
    if circle_mm is None:
        assert not {"turning_circle", "spare_turning.r"} & set(facts)
        return
    circle, spare = facts["turning_circle"], facts["spare_turning.r"]
    assert (circle.value, circle.n, circle.note) == (pytest.approx(circle_mm), 1, "")
    assert circle.keys == (
        ("configuration.chair.turning_mm",)
        if "turning_mm" in chair
        else tuple(f"configuration.chair.{name}" for name in ("width_mm", "length_mm", "axle_to_front_mm"))
    )
    assert (spare.value, spare.n) == (pytest.approx(2250 - circle_mm), 1) and "spare_turning.d" not in facts


def test_without_a_turning_space_a_public_one_is_named():
    note = facts_with(CHAIR | {"turning_mm": 1300})["turning_circle"].note  # 60 in, by the law
    assert note.startswith("no turning space is recorded; a public one is 1524 mm (")
