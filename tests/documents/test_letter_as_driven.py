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


def test_whoever_stands_in_the_doorway_as_it_turns_need_not_be_in_the_room():
    near = "must stay in the same room, or where the chair turns as stated below, until"
    assert near in page(ILMARI, "letter") and "as stated below" not in page(MARISOL, "letter")
