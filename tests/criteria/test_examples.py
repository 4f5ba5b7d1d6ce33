"""What each criterion says of one small case, changed in one way at a time: many records for each answer."""

from __future__ import annotations

import pytest
from example_cases import GATE, GOOD, NECK, NOT_ASKED, NOT_MET, ONE_STOP_MISSED, RAMP, STICK, UNTOLD
from whole_case import GONE, WHOLE, ask, attempts, changed, grounds

WHOLE_GROUNDS = grounds(WHOLE)


def _examples(table):
    return [
        pytest.param(criterion, example, id=f"{criterion}: {example[0]}")
        for criterion, examples in table.items()
        for example in examples
    ]


def _answered(criterion, example, status):
    _, changes, *rows = example
    answer = ask(criterion, grounds(changed(*changes), *rows))
    assert answer.status == status, answer.reason
    assert answer.reason[-1] in ".!?" and "None" not in answer.reason and "  " not in answer.reason
    assert answer.where and answer.mend


@pytest.mark.parametrize("criterion", UNTOLD)
def test_the_whole_case_meets_it(criterion):
    answer = ask(criterion, WHOLE_GROUNDS)
    assert answer.status == "met", answer.reason
    assert answer.reason.endswith(".") and answer.where and not answer.mend


@pytest.mark.parametrize(("criterion", "example"), _examples(NOT_MET))
def test_it_is_not_met_when_the_record_holds(criterion, example):
    _answered(criterion, example, "not_met")


@pytest.mark.parametrize(("criterion", "example"), _examples(UNTOLD))
def test_it_cannot_be_told_when_the_record_holds(criterion, example):
    _answered(criterion, example, "cannot_tell")


@pytest.mark.parametrize(("criterion", "changes", "rows"), NOT_ASKED, ids=[one[0] for one in NOT_ASKED])
def test_it_does_not_apply_when_the_question_does_not_arise(criterion, changes, rows):
    assert ask(criterion, grounds(changed(*changes), rows)).status == "does_not_apply"


# ---- what a reason names -------------------------------------------------------------------------------


def test_a_joystick_that_did_as_well_is_named_with_both_counts():
    answer = ask("standard_stick_ruled_out", grounds(WHOLE, attempts("stick", "1" * 15 + "0") + GOOD))
    assert "15 of 16" in answer.reason and "24 of 24" in answer.reason and "Joystick by hand" in answer.reason
    assert {"difference.stick", "success.stick", "success.pads"} <= set(answer.facts)


@pytest.mark.parametrize(
    "changes",
    [
        [("activities.1.with_device", "not_done"), ("activities.1.minutes_with", 20)],
        [("activities.1.minutes_with", 40)],
    ],
    ids=["in level", "in minutes"],
)
def test_more_help_anywhere_is_said_beside_the_gain(changes):
    answer = ask("independence_gained", grounds(changed(*changes)))
    assert answer.status == "met" and "More help is needed to move in class." in answer.reason


def test_a_place_alone_now_is_named_before_one_where_something_else_holds_for_now():
    later, now = (
        {"place": place, "level": "alone", **more}
        for place, more in (("at work", {"for_now": "The chair is off."}), ("at home", {}))
    )
    answer = ask("stops_on_request", grounds(changed(("supervision", [later, now])), ONE_STOP_MISSED))
    assert answer.status == "not_met" and "at home the client drives without anyone near" in answer.reason
    answer = ask("stops_on_request", grounds(changed(("supervision", [later])), ONE_STOP_MISSED))
    assert "later on nobody is to be near at work" in answer.reason


def test_a_slope_with_room_enough_is_named_as_not_measured_and_one_that_does_not_hold_the_chair_as_not_worked_out():
    for slope, said in (
        (8, "it is worked out from the level and not measured"),
        (60, "the distance is not worked out"),
    ):
        yard = RAMP | {"clear_ahead_mm": 9000, "slope_percent": slope}
        answer = ask("stops_within_space", grounds(changed(("spaces.+", yard))))
        assert answer.status == "met" and f"On the slope of the yard {said}." in answer.reason


def test_a_narrow_door_away_from_home_does_not_fail_the_home():
    assert ask("fits_the_home", grounds(changed(("spaces.+", GATE)))).status == "met"


def test_electronics_of_a_chair_that_is_already_there_are_not_taken_as_met():
    changes = ("request.kind", "control_only"), ("configuration.items.1", GONE), ("configuration.items.1", GONE)
    assert ask("control_and_electronics_match", grounds(changed(*changes))).status == "does_not_apply"


def test_an_answer_in_words_settles_a_danger_but_not_a_missing_stop_switch():
    answer = ("configuration.features.0.answer", "Pads inside 20 degrees, set by the surgeon.")
    assert ask("no_unanswered_risk", grounds(changed(NECK, answer))).status == "met"
    assert ask("no_unanswered_risk", grounds(changed(("configuration.latched", True), answer))).status == "not_met"


# ---- settings ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("criterion", "settings", "status"),
    [
        ("drives_reliably", {"least_days": 3}, "cannot_tell"),
        ("drives_reliably", {"least_attempts": 25}, "cannot_tell"),
        ("stops_on_request", {"least_stops": 7}, "cannot_tell"),
        ("limits_screened", {"kinds": ["hearing"]}, "cannot_tell"),
        ("encounter_before_order", {"months": 1}, "not_met"),
        ("fits_the_home", {"least_side_mm": 98.0}, "not_met"),
        ("follow_up_planned", {"first_within_weeks": 1}, "not_met"),
    ],
)
def test_a_setting_changes_the_answer(criterion, settings, status):
    assert ask(criterion, WHOLE_GROUNDS, **settings).status == status


@pytest.mark.parametrize(
    ("reading", "status"),
    [
        ({}, "met"),
        ({"fatigue_before": 8}, "not_met"),
        ({"fatigue_before": 7, "fatigue_after": 7}, "met"),
        ({"fatigue_after": 9}, "not_met"),
        ({"pain_after": 5}, "not_met"),
        ({"pain_before": 4, "pain_after": 4}, "met"),
        ({"fatigue_after": None}, "cannot_tell"),
    ],
)
def test_a_lesson_that_the_stop_rules_would_end_at_once_is_told(reading, status):
    first, last = GOOD[:12], [row | reading for row in GOOD[12:]]
    assert ask("lessons_can_begin", grounds(WHOLE, STICK + first + last)).status == status
    assert (
        ask("lessons_can_begin", grounds(WHOLE, STICK + [row | reading for row in first] + GOOD[12:])).status == "met"
    )  # another day
