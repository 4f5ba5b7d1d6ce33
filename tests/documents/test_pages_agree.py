"""What two pages say of one thing comes from one place, and says the same."""

from __future__ import annotations

import re
from functools import cache

import pytest
from gathered import of_each
from made import ILMARI, MARISOL, SAOIRSE
from support import ASSESSED

from docgen.fit.feature import features
from docgen.packet.trees import trees
from docgen.packet.wording import wording


@cache
def text(name: str, page: str) -> str:
    return trees(ASSESSED[name], [page], wording())[page].plain()


@of_each("feature", [one for one in features().values() if one.id != "auditory_feedback"])
def test_only_who_asks_for_sounds_is_promised_one(feature):
    assert not re.search(r"\b(sound|tone|beep)s?\b", f"{feature.training} {feature.care}") or "steps" in feature.care


def test_a_mode_switch_and_standby_are_taught_at_one_time():
    assert features()["standby"].training.startswith("Teach it right after stopping.")
    assert "right after stopping" in features()["mode_switch"].training


def test_the_order_gives_the_room_of_the_letter_beside_the_length_from_the_way_in():
    assert "2100 mm (82 1/2 in) ahead from the way in, 1020 mm (40 in) of it once inside" in text(ILMARI, "order")
    assert re.search(r"\(1020 mm\)\s+ahead once inside", text(ILMARI, "letter"))


def test_who_may_be_elsewhere_in_the_room_is_told_the_seconds_to_the_stop_on_the_card_alone_and_on_which_chair():
    near = "no. Once driving is allowed: a hand on the stop (his grandmother). "
    near += "You reach it on this chair in ____ seconds. Soon enough? Ask the therapist."
    assert f"{near} Once the therapist signs here: stay in the same room." in text(ILMARI, "card")
    guide = text(ILMARI, "guide")
    at_home = "At home: hand on the stop until signed on the card. Then stay in the same room."
    assert f"{at_home} To stop it: A." in guide and "1.2 seconds" not in guide


@pytest.mark.parametrize("page", ["guide", "plan"])
def test_a_stop_that_is_held_on_is_told_where_it_is_taught(page):
    assert "The press that stopped the chair starts nothing, however long." in text(MARISOL, page)


def test_the_order_tells_what_a_stop_does_that_is_held_on():
    """A hold after the stop is also the command to drive: so it says to let go first."""
    order = text(MARISOL, "order")
    assert "it stays stopped; only a press begun anew after letting go is a command" in order
    assert "To drive again, from standby: With no puff or sip, she holds the cheek switch two seconds." in order


def test_a_distance_that_was_reckoned_is_not_called_shown_in_an_appeal():
    says = "within the space available: the record shows this in part."
    assert says in text(MARISOL, "appeal")


def test_a_profile_is_told_with_what_the_lessons_in_its_places_ran_into():
    """Since delivery; of a profile that was changed, since its last change."""
    words = text(SAOIRSE, "programming")
    open_yet = "decides what is changed; until then nobody drives there."
    unknown = "Not recorded: in which profile, and a decision to drive at {}."
    decides = f"{unknown} Emeka Strand-Whitlock, 555-0112, {open_yet}"
    assert 'nobody drives in "indoor" before it is tested again' in words
    since = 'Places of "{}", in the sessions since {}: two collisions, at {}. ' + decides
    assert since.format("outdoor", "delivery", "archive yard", "archive yard") in words
    assert since.format("indoor", "August 24, 2026", "kitchen and archive aisle", "archive aisle") in words


def test_a_setting_to_look_at_is_told_with_what_the_order_records_of_it():
    assert "In the setup record: 0 ms" in text(ILMARI, "programming")
    assert "In the setup record: leave as delivered" in text(ILMARI, "programming")


def test_a_setting_that_was_chosen_with_all_its_findings_known_is_not_to_be_looked_at_again():
    """Her range and the way her foot goes were measured before the order recorded throw and axis."""
    assert "joystick axis orientation" in text(SAOIRSE, "order").lower()
    for page in ("plan", "programming"):
        assert "joystick throw" not in text(SAOIRSE, page) and "joystick axis" not in text(SAOIRSE, page)
