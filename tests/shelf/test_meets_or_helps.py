"""What a feature only helps, what a device answers though it can do harm, and what cannot be used at all."""

from __future__ import annotations

import pytest
from shelves import device, held, shelf, stages
from support import DEMO_FOLDERS

from docgen.fit.feature import features
from docgen.fit.finding import vocabulary
from docgen.library import match_of
from docgen.shelf.client import client, met_by
from docgen.shelf.match import match
from docgen.shelf.read import SHIPPED as SHELF
from docgen.shelf.read import shipped_shelf

SHIPPED = shipped_shelf()
MARISOL = next(path for path in DEMO_FOLDERS if path.name.startswith("marisol"))


def on_the_shelf(*findings, tried=()):
    return match(client(findings, features()), SHIPPED, tried=tried).devices


def test_each_finding_and_feature_of_the_table_is_known_and_calls_for_it():
    for finding, met in met_by().items():
        assert finding in vocabulary() and met.beside
        assert all(finding in features()[name].called_for_by for name in met.features), finding


@pytest.mark.parametrize(
    ("finding", "feature"),
    [
        ("seat_functions_needed", "auditory_feedback"),
        ("young_driver", "auditory_feedback"),
        ("young_driver", "momentary_drive"),
        ("impulsive", "momentary_drive"),
        ("alone_hours", "standby"),
        ("many_caregivers", "standby"),
    ],
)
def test_a_feature_that_helps_does_not_meet_a_finding(finding, feature):
    words = ("finger_isolated", finding)
    (bare, helped) = held(words, shelf(device("a", 1), device("b", 1, has=(feature,)))).devices.values()
    assert helped.standing(finding) == "helps" and bare.standing(finding) == "open"
    assert held(words, shelf(bare.device, helped.device)).layers == (("b",), ("a",))  # helped is better than nothing


def test_what_reaches_the_seat_meets_the_need_of_it():
    reached = device("a", 1, has=("seat_functions_by_drive_input",))
    heard = device("b", 1, has=("auditory_feedback",))
    result = held(("finger_isolated", "seat_functions_needed"), shelf(reached, heard))
    assert result.devices["a"].standing("seat_functions_needed") == "meets"
    assert result.layers == (("a",), ("b",))


def test_a_resting_head_at_pads_without_touch_is_a_harm_that_standby_answers():
    words = ("head_three_way", "head_rests_back")
    without = device("a", 2, has=("auditory_feedback",))
    assert stages(held(words, shelf(without))) == {"a": "harm"}
    (judged,) = held(words, shelf(device("a", 2, can_have=("standby", "auditory_feedback")))).devices.values()
    assert judged.standing("head_rests_back") == "guarded"
    assert {(guard.feature, guard.by) for guard in judged.best.guards} == {
        ("head_array", ("standby",)),
        ("proximity_sensing", ("standby",)),
    }


def test_no_device_alone_meets_an_early_learner_and_that_is_no_gap_of_the_shelf():
    result = held(("finger_isolated", "young_driver"), shelf(device("a", 1, has=("momentary_drive",))))
    assert result.client.not_by_device == ("young_driver",) and result.open_needs == ()


def test_a_control_at_the_chin_needs_the_head():
    chin = on_the_shelf("chin_graded", "head_control_emerging")["chin_stick"]
    assert chin.stage == "harm" and chin.standing("head_control_emerging") == "harms"
    assert (
        on_the_shelf("chin_graded", "head_rests_forward")["chin_stick"].standing("head_rests_forward") != "leaves_alone"
    )


def test_a_hand_that_cannot_grade_is_not_met_at_another_site():
    standing = on_the_shelf("head_three_way", "hand_ungraded")["head_control_by_force"].standing
    assert standing("hand_ungraded") == "leaves_alone"


def test_what_does_not_move_is_told_before_what_could_do_harm():
    devices = on_the_shelf("hand_none", "foot_none", "spasm_sudden", "breath_graded")
    for name in ("hand_stick", "finger_stick", "foot_stick"):
        assert (devices[name].stage, devices[name].movement) == ("movement", "none") and devices[name].best.harms


def test_a_way_of_reverse_that_can_hurt_is_left_off_and_told():
    devices = on_the_shelf("head_three_way", "spasm_sudden")
    for name in ("head_array_mechanical", "head_array_set_force"):
        assert devices[name].stage != "harm"
        assert {harm.feature for harm in devices[name].best.left_off} == {"reverse_access.own_switch"}
    assert not devices["head_array_proximity"].best.left_off


def test_every_control_that_the_head_works_stands_under_a_neck_that_hurts():
    matched = match_of(MARISOL, SHELF).match
    by_head = [name for name, judged in matched.devices.items() if {"head", "chin"} & judged.best.sites]
    assert len(by_head) == 7
    for name in by_head:
        assert matched.devices[name].standing("neck_pain") == "against", name
        assert matched.devices[name].stage in ("layered", "harm"), name  # the head was seen to move
