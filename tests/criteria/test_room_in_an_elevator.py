"""An elevator in which whoever must stay within reach has no room: each criterion that counts on them says so."""

from __future__ import annotations

import pytest
from whole_case import GONE, ROWS, WHOLE, ask, attempts, changed, grounds

CAR = {"id": "car", "name": "car", "kind": "elevator", "profile": "indoor", "ahead_from": "chair"}
NEAR = {"place": "in the car", "covers": ["car"]}
ONE_STOP_MISSED = attempts("stick", "0001" * 4) + attempts("pads", "1" * 21 + "011")
# criterion -> what it says where there is no room, how it may stand where there is room and other points are open, and
# the rows that it is asked on
ASKED = {
    "others_can_stop_it": (
        "Where whoever is near stands, and reaches it from, is not settled: car.",
        ("met", "in_part"),
        ROWS,
    ),
    "stops_on_request": (
        "someone is near wherever the client drives; where they stand is not settled: car",
        ("met", "in_part"),
        ONE_STOP_MISSED,
    ),
    "stops_within_space": ("In the car whoever stays within arm's reach needs room too", ("worked_out",), ROWS),
}


@pytest.mark.parametrize("criterion", ASKED)
@pytest.mark.parametrize(
    ("beside_mm", "ahead_mm", "level", "has_room"),
    [
        (450, 700, "arms_length", False),
        (610, 700, "arms_length", True),  # room beside the chair
        (450, 700, "same_room", True),  # who waits outside
        (450, 900, "arms_length", True),  # room ahead: it stops in 400 mm, and a person takes 460
    ],
)
def test_no_room_for_whoever_must_be_at_the_chair_is_told_and_shown_in_part(
    criterion, beside_mm, ahead_mm, level, has_room
):
    says, stands, rows = ASKED[criterion]
    wide_mm = WHOLE["configuration"]["chair"]["width_mm"] + beside_mm
    case = changed(
        ("spaces.+", CAR | {"clear_width_mm": wide_mm, "clear_ahead_mm": ahead_mm}),
        ("supervision", [NEAR | {"level": level}]),
        ("configuration.chair.figures_from", "the clinic's trial chair"),
    )
    answer = ask(criterion, grounds(case, rows))
    assert answer.status == "met" and (says in answer.reason) is not has_room
    assert answer.stands in (stands if has_room else ("in_part",))


@pytest.mark.parametrize(
    "left_out",
    [
        "spaces.3.clear_width_mm",
        "spaces.3.clear_ahead_mm",
        "spaces.3.profile",
        "configuration.chair.width_mm",
        "configuration.chair.electronics_delay_s",
        "configuration.chair.deceleration_m_s2",
    ],
)
def test_a_measure_left_out_settles_no_place_to_stand(left_out):
    car = CAR | {"clear_width_mm": WHOLE["configuration"]["chair"]["width_mm"] + 450, "clear_ahead_mm": 700}
    at = len(WHOLE["spaces"])
    case = changed(("spaces.+", car), ("supervision", [NEAR | {"level": "arms_length"}]))
    less = changed(
        ("spaces.+", car),
        ("supervision", [NEAR | {"level": "arms_length"}]),
        (left_out.replace("spaces.3", f"spaces.{at}"), GONE),
    )
    for record in (case, less):
        answer = ask("others_can_stop_it", grounds(record))
        assert ASKED["others_can_stop_it"][0] in answer.reason and answer.stands == "in_part"
