"""What the record does not hold, the daily guide neither allows, nor forbids as if decided, nor speaks of as there."""

from __future__ import annotations

import pytest
from made import assessed

from docgen.packet.trees import trees


def guide(**tables) -> str:
    """The words of card, guide and log of a case of these tables alone."""
    return "\n".join(tree.plain() for tree in trees(assessed(**tables), ["card", "guide", "log"]).values())


# ---- hours alone, and a ride ---------------------------------------------------------------------

ALONE = {"place": "At home", "level": "alone", "chair_state": "off", "calls_by": "by voice", "call_needs_chair": False}
ALONE |= {
    "help_after_min": 5,
    "fire_plan": "A neighbor comes.",
    "settled": ("call_without_voice", "call_fails", "fire"),
}


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({}, "At home: only so. The chair is off. Then yes."),
        ({"chair_state": None}, "At home: no, not yet. First settle this: not recorded: whether the chair is off then"),
        ({"calls_by": None}, "how help is called"),
        ({"call_needs_chair": None}, "whether that call works without the chair"),
        ({"help_after_min": None}, "how long at most until someone is there"),
        ({"fire_plan": None}, "what to do at smoke or fire"),
        ({"chair_state": "rests"}, "At home: no, not yet. The chair only rests, and the control can wake it."),
        ({"call_needs_chair": True}, "At home: no, not yet. Help is called through the chair"),
        ({"chair_state": "seat_only"}, "what turns off the drive alone"),
        ({"chair_state": "seat_only"}, "what to do when the seat is back and the control out of reach"),
        ({"settled": ("fire",)}, "At home: no, not yet. Still open: a call without the voice."),
        ({"settled": ("call_without_voice", "call_fails")}, "At home: no, not yet. Still open: a fire."),
        ({"settled": ("call_without_voice", "fire")}, "At home: no, not yet. Still open: a call that fails."),
        ({"settled": None}, "At home: no, not yet. Still open: a call without the voice, a fire."),
        ({"toilet_and_drink": "Before and after."}, "At home: no, not yet. Still open: toilet and drink."),
    ],
)
@pytest.mark.parametrize("level", ["alone", "on_call"])
def test_nobody_may_step_away_where_hours_alone_are_not_provided_for(change, says, level):
    place = {key: value for key, value in (ALONE | change | {"level": level}).items() if value is not None}
    told = guide(supervision=(place,))
    assert (says if change or level == "alone" else f"{says} Stay close to the phone.") in told
    assert (says in told) and ("Then yes" in told) == (not change) and "At home: yes" not in told


def test_a_ride_of_which_a_point_is_open_is_no_ban_and_tells_what_the_record_says_of_it():
    ride = {"rides_in_chair": True, "vehicle": "a van", "four_tie_downs": "yes", "says": "The pads come off first."}
    told = guide(transport=ride)
    assert "Ask the therapist before the next ride. The pads come off first." in told
    assert "must not ride" not in told and "not recorded: what is behind the head" in told


# ---- catches, sounds, marks, levers --------------------------------------------------------------


@pytest.mark.parametrize("word", ["click", "hinge", "the sound", "the mark", "brake release levers"])
def test_no_catch_sound_mark_or_lever_is_spoken_of_that_nothing_records(word):
    asked = tuple({"id": id, "because": ()} for id in ("swing_away_mount", "joystick_position", "mode_switch"))
    told = guide(configuration={"features": asked, "mounting": ({"id": "cup", "part": "chin cup", "site": "chin"},)})
    assert word not in told
    assert "Swing the control back. Not recorded: how to move it away and put it back." in told
    assert "not recorded: how its brakes are let go, and where" in told.lower()


def test_levers_that_are_recorded_are_shown_and_set_back():
    told = guide(configuration={"stop": {"freewheel": "below the seat"}})
    assert "brake release levers (C): below the seat" in told and "It rolls? Lever C is set to roll." in told


# ---- the day in the head -----------------------------------------------------------------------------


def test_a_page_without_a_date_shows_a_gap_and_no_made_up_day():
    from docgen.packet.render import render

    case = assessed(client={"name": "Robin Example"})
    page = render(case, ["html"], ["guide"])["guide.html"].decode()
    assert "1980" not in page and "not recorded: date" in page


def test_a_stop_that_someone_carries_is_in_reach_not_at_a_place_beside_the_chair():
    told = guide(configuration={"stop": {"helper_switch": "remote that an aunt carries", "stop_switch": "a button"}})
    assert "with the stop switch in reach" in told and "where you reach" not in told


def test_how_long_a_drive_may_last_is_told_without_any_setting():
    assert "Drive 20 minutes at most: a tired driver stops late. Then rest." in guide(training={"minutes": 20})


@pytest.mark.parametrize("also", [(), ("transfer_sling",)])
def test_the_sling_and_the_lift_are_spoken_of_where_somebody_is_lifted(also):
    findings = tuple({"id": name, "says": "So."} for name in ("transfer_standing", *also))
    told = guide(findings=findings)
    assert ("patient lift" in told) is bool(also)
    assert ("Help with standing up, and its order: not set. Ask the therapist before you help." in told) is not also


def test_help_is_promised_within_the_longest_wait_and_not_in_it():
    assert "Someone is there within 5 minutes." in guide(supervision=(ALONE,))
