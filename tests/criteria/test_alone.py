"""What of the record speaks against being alone in a place, and what is still to be settled there."""

from __future__ import annotations

from datetime import time

import pytest
from whole_case import changed, grounds

from docgen.criteria.alone import not_settled, places_alone, ruled_out_by

ALONE = {"place": "at home, alone", "level": "on_call", "by": "an aunt"}
SETTLED = {"calls_by": "a bell", "call_needs_chair": False, "help_after_min": 5, "fire_plan": "Out by the back door."}


@pytest.mark.parametrize(
    ("keys", "ruled_out"),
    [
        ({}, ()),
        ({"call_needs_chair": False, "chair_state": "off", "for_now": "The aunt turns it off."}, ()),
        ({"call_needs_chair": True}, ("call_needs_chair",)),
        ({"chair_state": "rests"}, ("rests",)),
        ({"call_needs_chair": True, "chair_state": "rests"}, ("call_needs_chair", "rests")),
        ({"calls_by": "A bell at the cheek."}, ("call_without_voice",)),
        ({"calls_by": "A bell at the cheek.", "settled": ["call_without_voice"]}, ("call_fails",)),
        ({"calls_by": "A bell at the cheek.", "settled": ["call_without_voice", "call_fails"]}, ()),
        ({"fire_plan": "The fire department comes.", "settled": ["call_without_voice"]}, ("fire",)),
        ({"fire_plan": "The fire department comes.", "settled": ["fire"]}, ()),
        ({"chair_state": "seat_only"}, ("weight_shifts", "reach_tilted")),
        ({"chair_state": "seat_only", "settled": ["weight_shifts"]}, ("reach_tilted",)),
        ({"if_stuck": "Calls."}, ("no_answer",)),
        ({"no_answer": "The pendant calls 911.", "if_stuck": "Calls."}, ("no_answer",)),
        ({"no_answer": "The pendant calls 911.", "settled": ["no_answer"]}, ()),
        ({"toilet_and_drink": "Before and after."}, ("toilet_and_drink",)),
        ({"toilet_and_drink": "Before and after.", "settled": ["toilet_and_drink"]}, ()),
    ],
)
def test_what_speaks_against_being_alone_there_is_told_by_name(keys, ruled_out):
    case = grounds(changed(("supervision.+", ALONE | keys))).case
    [(at, place)] = places_alone(case)
    assert (at, ruled_out_by(case, place)) == (1, ruled_out)


@pytest.mark.parametrize(
    ("about", "settled", "ruled_out"),
    [("bed", [], ("night",)), ("night", [], ("night",)), ("night", ["night"], ()), ("skin", [], ())],
)
def test_a_night_that_is_not_settled_keeps_hours_alone_open(about, settled, ruled_out):
    night = {"about": about, "says": "Her aunt sleeps next door."}
    case = grounds(changed(("supervision.+", ALONE | {"settled": settled}), ("cautions", [night]))).case
    [(_, place)] = places_alone(case)
    assert ruled_out_by(case, place) == ruled_out


@pytest.mark.parametrize(
    ("when", "ruled_out"),
    [
        ({"longest_min": 45}, ()),
        ({"longest_min": 480}, ("night",)),
        ({"hours": [{"starts_at": "11:00", "ends_at": "14:00"}]}, ()),
        ({"hours": [{"starts_at": "21:00", "ends_at": "06:00"}]}, ("night",)),
        ({"hours": [{"starts_at": "19:00", "ends_at": "23:00"}], "longest_min": 60}, ("night",)),
    ],
)
def test_a_night_is_open_in_hours_alone_that_may_hold_one(when, ruled_out):
    hours = [{key: time.fromisoformat(at) for key, at in hour.items()} for hour in when.get("hours", ())]
    night = {"about": "night", "says": "Her aunt sleeps next door."}
    case = grounds(changed(("supervision.+", ALONE | when | {"hours": hours}), ("cautions", [night]))).case
    [(_, place)] = places_alone(case)
    assert ruled_out_by(case, place) == ruled_out


@pytest.mark.parametrize(
    ("keys", "stop", "missing"),
    [
        ({}, {}, ("chair_state", "calls_by", "call_needs_chair", "help_after_min", "fire_plan")),
        (SETTLED | {"chair_state": "off"}, {}, ()),
        (
            {key: value for key, value in SETTLED.items() if key != "call_needs_chair"} | {"chair_state": "in_bed"},
            {},
            (),
        ),
        (SETTLED | {"chair_state": "seat_only"}, {}, ("if_stuck", "drive_off")),
        (SETTLED | {"chair_state": "seat_only"}, {"drive_off": "a green lever"}, ("if_stuck",)),
        (SETTLED | {"chair_state": "seat_only", "if_stuck": "Calls."}, {"drive_off": "a green lever"}, ()),
    ],
)
def test_what_is_not_settled_for_time_alone_is_told_by_its_keys(keys, stop, missing):
    drive_off = [(f"configuration.stop.{key}", value) for key, value in stop.items()]
    case = grounds(changed(("supervision.+", ALONE | keys), *drive_off)).case
    assert not_settled(case, case.supervision[1]) == missing
