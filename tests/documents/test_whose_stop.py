"""Which switch is told as whose: a helper is never sent to the driver's own stop, nor twice to the power switch."""

from __future__ import annotations

import pytest
from made import assessed
from safe_pages import pages

from docgen.case.stop import Stop
from docgen.figures.stop_sites import switches_of

POWER = "power button of the joystick module, on the back"
KNEE = {"stop_switch": "left knee pad", "power_off": POWER, "other_way": "Pull the plug.", "helper": "press it"}
BOTH = pytest.mark.parametrize("lang", ["en", "es"])


@pytest.mark.parametrize(
    ("keys", "at_hand", "drivers"),
    [
        ({"stop_switch_by": "driver"}, None, "left knee pad"),
        ({"stop_switch_by": "both"}, "left knee pad", None),
        ({}, "left knee pad", None),
        ({"helper_switch": "red box", "stop_switch_by": "both"}, "red box", "left knee pad"),
        ({"helper_switch": "red box", "stop_switch_by": "helper"}, "red box", None),
        ({"helper_switch": "red box"}, "red box", None),  # whose the other is nobody has said
        ({"helper_stops_by": "power_switch"}, None, "left knee pad"),
        ({"helper_switch": POWER, "helper_stops_by": "power_switch"}, None, "left knee pad"),
        ({"helper_switch": POWER, "helper_stops_by": "power_switch", "stop_switch_by": "both"}, "left knee pad", None),
        ({"helper_switch": "red box", "helper_stops_by": "own_switch"}, "red box", None),
        ({"after_stop": "rests", "stop_switch_by": "driver"}, None, None),
    ],
)
def test_what_a_helper_presses_and_what_is_the_drivers(keys, at_hand, drivers):
    stop = Stop.model_validate(KNEE | keys)
    assert (stop.at_hand[0], stop.drivers_own[0]) == (at_hand, drivers)
    assert stop.is_power_alone is (at_hand is None)


@BOTH
@pytest.mark.parametrize(
    "keys", [{"stop_switch_by": "driver"}, {"helper_switch": "power button, behind", "helper_stops_by": "power_switch"}]
)
def test_a_helper_without_a_switch_of_their_own_turns_the_power_off_first(lang, keys):
    stop = KNEE | keys | {"after_stop": "waits", "again": "Press twice."}
    first, morning = pages(assessed(client={"called": "Robin"}, configuration={"stop": stop}), lang)[:2]
    press = {"en": "Press the stop switch, A", "es": "Oprima el botón de paro, A"}[lang]
    own = {"en": "The driver's own stop switch, E: ", "es": "El paro de Robin, E: "}[lang]
    none = {"en": "There is no other stop switch", "es": "No hay otro botón de paro"}[lang]
    assert press not in first + morning and own in first and none not in first
    tried = {"en": "presses E", "es": "oprime E"}[lang]
    assert tried in morning and "Press twice." in morning


@BOTH
def test_a_shut_off_drive_is_set_back_with_a_hand_at_a_switch_that_is_there(lang):
    stop = {"has_switch": False, "power_off": POWER, "drive_off": "green lever"}
    morning = pages(assessed(client={"called": "Robin"}, configuration={"stop": stop}), lang)[1]
    at = {"en": "Hand at {}, return F", "es": "Con la mano en {}, regrese F"}[lang]
    assert at.format("B") in morning and at.format("A") not in morning


@BOTH
@pytest.mark.parametrize("by", ["driver", "helper"])
def test_nobody_is_sent_to_a_power_switch_that_the_driver_alone_reaches(lang, by):
    stop = {
        "helper_switch": "red box",
        "helper_stops_by": "own_switch",
        "helper": "press it",
        "power_off": "egg switch",
    }
    case = assessed(client={"called": "Robin"}, configuration={"stop": stop | {"power_off_by": by}})
    card = " ".join(pages(case, lang))
    gap = {
        "en": "where the power switch is that a helper reaches",
        "es": "dónde está el interruptor de encendido que alcanza quien ayuda",
    }[lang]
    assert ("egg switch" in card.casefold(), gap in card) == (by == "helper", by == "driver")
    drawn = {name for _, _, name, _, _ in switches_of(case.file.case)}
    assert ("power_off" in drawn) is (by == "helper")
