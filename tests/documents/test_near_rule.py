"""Who is near, in one wording on card and guide; a barred place has no rule of driving; a time of another chair says
so; each switch of the card has a shape of its own."""

from __future__ import annotations

from datetime import date

import pytest
from made import assessed
from msgspec.structs import replace
from support import ASSESSED

from docgen.figures import stop_card
from docgen.figures.chair import symbol
from docgen.figures.stop_sites import switches_of
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

_PLACE = {
    "place": "at home",
    "level": "in_sight",
    "stands": "in_the_room",
    "stops_with": "stop_switch",
    "by": "an aunt",
}
_FITTED = {"mount": "pad", "gap_mm": 2.0, "on": date(2026, 7, 6)}


def told(document: str, **place: object) -> str:
    return trees(assessed(supervision=(_PLACE | place,)), [document])[document].plain()


@pytest.mark.parametrize("stands, where", [("in_the_room", "Stay in the room"), ("behind", "Stand at a back corner")])
def test_card_and_guide_say_where_to_stay_in_the_same_words(stands, where):
    """The card answers first whether one may step away."""
    assert f"At home: not out of sight. Stay where you see the chair. {where}" in told("card", stands=stands)
    assert f"At home: stay where you see the chair. {where}" in told("guide", stands=stands)


def test_a_place_that_is_barred_for_now_has_no_rule_of_driving_in_the_guide():
    guide = told("guide", for_now="No driving there.")
    assert "At home: only as the card says now." in guide
    assert "stay where you see" not in guide and "Press the stop switch." not in guide.split("On the way")[1]
    assert "No driving there." in told("card", for_now="No driving there.")


def test_a_setting_of_barred_places_alone_is_not_used():
    guide = trees(ASSESSED["saoirse-villalobos-ng"], ["guide"])["guide"].plain()
    assert all(
        f'Do not use "{name}" yet.' in guide and f'Use "{name}"' not in guide for name in ("outdoor", "ramp", "indoor")
    )
    assert 'Use "training"' in guide


@pytest.mark.parametrize("reach_on, before", [(date(2026, 3, 6), True), (date(2026, 7, 7), False), (None, True)])
def test_a_reach_time_of_another_chair_says_so(reach_on, before):
    place = _PLACE | {"reach_s": 1.2, "reach_on": reach_on}
    case = assessed(
        supervision=(place,),
        configuration={"mounting": [{"id": "pad", "part": "pad", "site": "head_back", "gap_mm": 2.0}]},
        fitted=(_FITTED,),
    )
    card = trees(case, ["card"])["card"].plain()
    time = 'Have your hand on the stop within about one second ("one thousand one").'
    # one distance alone: the hand stays on the stop until the time is measured with this chair
    untimed = (
        "a hand on the stop (an aunt). You reach it on this chair in ____ seconds. Soon enough? Ask the therapist."
    )
    assert (time in card) is not before and (untimed in card) is before
    assert ("hand on the stop until signed on the card" in trees(case, ["guide"])["guide"].plain()) is before


@pytest.mark.parametrize("name", ASSESSED)
def test_no_two_kinds_of_switch_on_the_card_have_the_same_shape(name):
    kinds = {kind for _, kind, *_ in switches_of(ASSESSED[name].file.case)}
    assert len({repr(symbol(kind, 0, 0)) for kind in kinds}) == len(kinds)
    letters = {letter: kind for letter, kind, *_ in switches_of(ASSESSED[name].file.case)}
    assert len(set(letters.values())) == len(letters)


@pytest.mark.parametrize("name", ["marisol-quenneville-tran", "saoirse-villalobos-ng"])
def test_a_lever_that_rolls_says_that_it_is_no_stop_whatever_stands_beside_it(name):
    drawn = stop_card.scene(ASSESSED[name].file.case, ASSESSED[name].evidence, language_words("en")["figures"])
    assert drawn is not None and "Never for stopping" in repr(drawn)


@pytest.mark.parametrize("stays", [True, False, None])
def test_what_wakes_the_control_is_named_before_the_seat_is_raised(stays):
    """A seat that stays chosen needs no waking; where nobody has said, that is asked for."""
    now = ASSESSED["marisol-quenneville-tran"]
    case = now.file.case
    case = case.model_copy(update={"sitting": case.sitting.model_copy(update={"stays_chosen": stays})})
    guide = trees(replace(now, file=replace(now.file, case=case)), ["guide"])["guide"].plain()
    assert ("The control rests by then: wake the seat first." in guide) == (stays is False)
    assert ("whether the seat, once chosen on the control, stays so" in guide) == (stays is None)
    assert "It does not drive at all" in guide and "a mark or a gap is wrong" in guide


def test_no_answer_is_no_no_and_is_asked_with_the_power_off():
    card = trees(ASSESSED["saoirse-villalobos-ng"], ["card"])["card"].plain()
    assert "No clear sign is no answer: ask again. Ask with A pressed, power off." in card
