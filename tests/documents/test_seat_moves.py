"""What guide, card and plan say of a seat that moves: alternatives are no sequence, a weight shift is steps, and a
chair that must stay off still brings its driver up. Both languages."""

from __future__ import annotations

import pytest
from made import assessed

from docgen.packet.languages import in_language
from docgen.packet.trees import trees

BOTH = pytest.mark.parametrize("lang", ["en", "es"])
COMMANDS = (
    {"moves": "seat is chosen", "input": "a soft puff", "kept": "once"},
    {"moves": "the seat goes back", "input": "a hard puff", "kept": "held"},
    {"moves": "the seat comes up", "input": "a hard sip", "kept": "held"},
)
SHIFT = {"tilt_deg": 30.0, "hold_min": 2.0, "every_min": 30.0, "starts": "driver", "helper": "The aunt."}


def told(paper, lang="en", **case):
    """The words of one paper, the marks of another language taken out."""
    made = assessed(client={"called": "Robin"}, **case)
    tree = trees(made, [paper])[paper] if lang == "en" else in_language(made, lang, [paper]).trees[paper]
    return tree.plain().replace("[en inglés: «", "").replace("»]", "").replace("\n", " ")


def commands(any_of):
    return {"commands": (COMMANDS[0], *(one | {"any_of": any_of} for one in COMMANDS[1:]))}


@BOTH
def test_commands_of_which_any_one_may_come_are_no_sequence(lang):
    any_one = {"en": "Then any one of these. A hard puff", "es": "Luego una sola de estas. a hard puff"}[lang]
    in_order = told("guide", lang, sitting=commands(None))
    assert any_one in told("guide", lang, sitting=commands(True)) and any_one not in in_order
    assert in_order.index("seat is chosen") < in_order.index("the seat goes back") < in_order.index("comes up")


def test_the_plan_gives_the_commands_of_the_seat_in_the_words_of_the_guide():
    assert "Then any one of these. A hard puff: the seat goes back." in told("plan", sitting=commands(True))


@BOTH
def test_a_weight_shift_is_told_in_steps_where_there_are_some(lang):
    steps = ("Press once.", "A soft puff: a word.")
    page = told("guide", lang, weight_shift=SHIFT | {"steps": steps, "how": "A puff."})
    assert page.index("Press once.") < page.index("A soft puff: a word.") and "A puff. " not in page
    assert "A puff." in told("guide", lang, weight_shift=SHIFT | {"how": "A puff."})


@BOTH
@pytest.mark.parametrize("seen", ["Until the red marks meet.", None])
def test_what_shows_a_helper_the_angle_is_told_or_a_gap(lang, seen):
    page = told("guide", lang, weight_shift=SHIFT | {"how": "A puff.", "seen": seen})
    assert (seen or {"en": "what shows a helper that the angle", "es": "cómo ve quien ayuda"}[lang]) in page


@BOTH
@pytest.mark.parametrize(("stays", "rests"), [(True, False), (False, True), (None, False)])
def test_a_seat_that_rests_is_woken_first_and_one_of_which_it_is_not_known_shows_a_gap(lang, stays, rests):
    case = {
        "weight_shift": SHIFT | {"how": "A puff."},
        "configuration": {"settings": ({"setting": "standby_timeout", "value": "10 s", "timeout_s": 10},)},
        "sitting": {"stays_chosen": stays},
    }
    page = told("guide", lang, **case)
    assert ({"en": "wake the seat first", "es": "active primero el asiento"}[lang] in page) is rests
    assert (("hether the seat, once chosen" in page) or ("asiento sigue elegido" in page)) is (stays is None)


@BOTH
@pytest.mark.parametrize("way", ["Wheels locked, key on.", None])
def test_the_card_says_how_the_seat_moves_of_a_chair_that_must_stay_off(lang, way):
    case = {"weight_shift": SHIFT, "sitting": {"while_off": way, "not_at_all": "To bed."}}
    page = told("card", lang, **case)
    assert (way or {"en": "of a chair that must stay off", "es": "de una silla que debe seguir apagada"}[lang]) in page
    no_more = {
        "en": (
            "Not after smoke, a smell, wet or D.",
            "It runs on: ",
            "Then turn B off",
            "No seat power: log.",
        ),
        "es": (
            "No tras humo, olor, agua o D.",
            "Si no para: ",
            "Luego apague B",
            "Sin corriente: registro.",
        ),
    }[lang]
    assert all(words in page for words in no_more)
    assert "To bed." in told("log", lang, **case) and "To bed." not in told(
        "log", lang, sitting={"not_at_all": "To bed."}
    )


@BOTH
def test_driving_after_a_headache_is_not_that_after_a_weight_shift(lang):
    people = (
        {"id": "nurse", "role": "other", "name": "Nim Example", "phone": "555-0100"},
        {"id": "doctor", "role": "practitioner", "name": "Ash Example"},
    )
    case = {"weight_shift": SHIFT | {"wait_min": 3.0}, "people": people}
    page = told("guide", lang, emergency={"restart_by": ("nurse", "doctor")}, **case)
    clears = {
        "en": "After the emergency page: no driving until all",
        "es": "Tras la hoja de emergencia, nadie",
    }[lang]
    assert clears in page and "Nim Example" not in page.split(clears)[1][:90]  # the page that it leads to names them
    assert clears not in told("guide", lang, **case)
    one = told("guide", lang, emergency={"restart_by": ("nurse",)}, **case)
    assert "Nim Example" in one[one.index(clears[:20]) :][:140]
