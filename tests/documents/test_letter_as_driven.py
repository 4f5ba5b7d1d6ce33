"""What a letter says of switches pressed in a moving chair, of pushing and of who is near."""

from __future__ import annotations

import re

import pytest
from made import ILMARI, MARISOL, SAOIRSE
from support import ASSESSED, DEMOS
from test_asked_of_a_chair import configured, page

from docgen.packet.trees import trees


def stop(**changes):
    """A change of how the chair is stopped."""
    return configured(stop=lambda stop: stop.model_copy(update=changes))


def test_each_switch_that_stopped_no_moving_chair_stands_among_the_limitations():
    assert "No press of the cheek switch or the power switch in a moving chair is recorded." in page(MARISOL, "letter")
    assert "in a moving chair" not in page(
        MARISOL, "letter", stop(switch_pressed_m_s=0.5, helper_pressed_m_s=0.5, power_pressed_m_s=0.5)
    )
    none = page(MARISOL, "letter", stop(switch_pressed_m_s=None, helper_pressed_m_s=None))
    assert "No press of the cheek switch, the attendant stop switch or the power switch in a moving" in none


def test_a_switch_pressed_more_slowly_than_the_trial_is_told_with_its_speed():
    assert "The knee switch was not pressed in drive above 0.55 mph (0.25 m/s)." in page(ILMARI, "letter")
    assert "The round button was not pressed in drive above 0.67 mph (0.3 m/s)." in page(SAOIRSE, "letter")
    assert "not pressed in drive" not in page(ILMARI, "letter", stop(switch_pressed_m_s=0.4))


def test_whether_a_moving_arm_strikes_the_power_switch_is_told_until_it_was_watched():
    assert "Whether his moving arm strikes the power switch at its armrest is to be watched" in page(ILMARI, "letter")
    assert "moving arm" not in page(ILMARI, "letter", stop(arm_reaches_power=False))
    assert "His moving arm was seen to strike the power switch" in page(ILMARI, "letter", stop(arm_reaches_power=True))


@pytest.mark.parametrize("demo", DEMOS)
def test_no_letter_has_a_chair_pushed_without_power_and_its_brakes_on(demo):
    letter = " ".join(trees(ASSESSED[demo], ["letter"])["letter"].plain().split())
    pushed = [s for s in re.split(r"(?<=[.;]) ", letter) if re.search(r"\bpushed\b[^.;]*\bpower off\b", s)]
    assert all(re.search(r"\b(?:brakes|brake levers)\b", sentence) for sentence in pushed), pushed
    assert bool(pushed) == (demo in (ILMARI, MARISOL))


def test_a_room_that_the_order_holds_back_is_held_back_in_the_letter_too():
    ahead = "He drives there only once the room ahead is measured."
    assert page(ILMARI, "letter").count(ahead) == 1
    corner = "She drives there only once the corner into it is tried and the way to the stop is timed."
    assert corner in page(SAOIRSE, "letter")
    done = page(SAOIRSE, "letter", lambda case: case.model_copy(update={"spaces": ()}))
    assert "drives there only once" not in done


def test_in_lessons_too_nobody_stands_in_the_floor_that_the_chair_turns_on():
    reach, aside = "within arm's reach. ", "Where the chair turns at home, the trainer stands where stated above."
    assert f"{reach}{aside}" in page(ILMARI, "letter")
    waits = "Turning in the kitchen waits: where the trainer stands then is not settled."
    assert f"{reach}{waits}" in page(SAOIRSE, "letter")
    wide = page(SAOIRSE, "letter", configured(chair=lambda chair: chair.model_copy(update={"turning_mm": 1000.0})))
    assert waits not in wide and aside not in wide and reach in wide
    assert waits not in page(MARISOL, "letter") and aside not in page(MARISOL, "letter")


def test_the_therapist_who_signs_the_letter_is_no_third_person_in_it():
    for demo in DEMOS:
        assert not re.search(r"until the therapist says|as the therapist writes", page(demo, "letter")), demo
    assert "must stay within arm's reach until I say otherwise." in page(ILMARI, "letter")


def test_whoever_stands_in_the_doorway_as_it_turns_need_not_be_in_the_room():
    near = "must stay in the same room, and where the chair turns, as stated below, until"
    assert near in page(ILMARI, "letter") and "as stated below" not in page(MARISOL, "letter")


@pytest.mark.parametrize(
    ("where", "named"),
    [
        ("left cheek", "the switch at the left cheek"),
        ("beside the left knee", "the switch beside the left knee"),
        ("the red switch at the knee", "the red switch at the knee"),
    ],
)
def test_the_place_of_a_stop_switch_is_not_taken_for_the_switch(where, named):
    own = {"stop_switch": where, "stop_switch_by": "driver", "switch_pressed_m_s": None}
    change = stop(**own)
    letter = page(MARISOL, "letter", lambda case: without_presses(change(case)))
    assert f"No press of {named}" in letter


def without_presses(case):
    asked = case.configuration.model_copy(update={"commands": (), "mounting": ()})
    return case.model_copy(update={"configuration": asked})


def test_who_held_the_encounter_and_how_are_told_only_where_recorded():
    def unsaid(case):
        bare = case.encounter.model_copy(update={"by": None, "mode": None, "mobility_was_reason": None})
        return case.model_copy(update={"encounter": bare})

    letter = page(ILMARI, "letter", unsaid)
    assert "missing: who held the encounter" in letter and "face-to-face" not in letter
    assert "mobility encounter" not in letter


def test_a_stop_at_a_line_is_not_told_as_a_stop_on_command():
    def timed(by):
        return lambda case: case.model_copy(update={"trial": case.trial.model_copy(update={"release_from": by})})

    for by, told in (
        ("cue", "stopped on command"),
        ("line", "stopped at the line"),
        (None, "he stopped in "),
    ):
        letter = page(ILMARI, "letter", timed(by))
        assert told in letter and ("stopped on command" in letter) == (by == "cue")
