"""Card and guide where a condition comes before the yes it belongs to, and what is told only where it is recorded. Both
languages."""

from __future__ import annotations

from datetime import time

import pytest
from made import assessed

from docgen.packet.languages import in_language
from docgen.packet.trees import trees

BOTH = pytest.mark.parametrize("lang", ["en", "es"])
ALONE = {
    "place": "at home",
    "level": "on_call",
    "by": "an aunt",
    "chair_state": "off",
    "calls_by": "by a bell",
    "call_needs_chair": False,
    "help_after_min": 5,
    "fire_plan": "Out.",
    "settled": ("call_without_voice", "call_fails", "fire"),
}


def told(paper, lang="en", **case):
    """The words of one paper, the marks of another language taken out."""
    made = assessed(client={"called": "Robin"}, **case)
    tree = trees(made, [paper])[paper] if lang == "en" else in_language(made, lang, [paper]).trees[paper]
    return tree.plain().replace("[en inglés: «", "").replace("»]", "").replace("\n", " ")


@BOTH
@pytest.mark.parametrize("for_now", ["The lever is left.", None])
def test_the_condition_of_a_yes_comes_before_it(lang, for_now):
    page = told("card", lang, supervision=(ALONE | {"for_now": for_now},))
    condition = for_now or {"en": "The chair is off.", "es": "La silla está apagada."}[lang]
    yes = {"en": "Then yes. Stay close", "es": "Entonces sí puede"}[lang]
    assert {"en": "only so. ", "es": "solo así. "}[lang] + condition in page
    assert page.index(condition) < page.index(yes)


@BOTH
def test_toilet_and_night_that_are_not_settled_are_no_yes_to_leave(lang):
    place = ALONE | {"toilet_and_drink": "Before and after.", "for_now": "An uncle stays."}
    page = told("card", lang, supervision=(place,), cautions=({"about": "bed", "says": "Flat, one pillow."},))
    no, yes = {
        "en": ("no, not yet. Still open: toilet and drink, who stays at night. For now: An uncle stays.", "Then yes"),
        "es": (
            "no, todavía no. Sin resolver: baño y bebida, quién está de noche. Por ahora: An uncle stays.",
            "Entonces sí",
        ),
    }[lang]
    assert no in page.replace("An uncle stays.»]", "An uncle stays.") and yes not in page


@BOTH
@pytest.mark.parametrize("site", ["armrest_left", "back_left"])
def test_stop_and_power_are_both_off_where_an_arm_may_reach_the_power_switch(lang, site):
    stop = {"stop_switch": "red button", "stop_switch_by": "helper", "power_off": "rocker", "power_off_site": site}
    moves = ({"id": "hand_moves_involuntary", "says": "The arm moves by itself."},)
    page = told("card", lang, configuration={"stop": stop}, findings=moves)
    both, power = {
        "en": ("Press A and turn the chair off before you leave", "Turn the chair off before you leave"),
        "es": ("Oprima A y apáguela antes de alejarse", "Apáguela antes de alejarse"),
    }[lang]
    assert (both in page, power in page) == (site == "armrest_left", site == "back_left")


@BOTH
def test_a_push_that_would_turn_the_chair_on_again_is_warned_of(lang):
    stop = {"stop_switch": "red button", "stop_switch_by": "helper", "power_off": "push switch", "off_sign": "out"}
    warned = {"en": "Already off? Do not push.", "es": "¿Ya está apagada? No lo oprima."}[lang]
    pages = [told("card", lang, configuration={"stop": stop | keys}) for keys in ({}, {"off_toggles": True})]
    assert [page.count(warned) for page in pages] == [0, 1]


@BOTH
def test_whoever_must_see_the_chair_is_told_no_further(lang):
    page = told("card", lang, supervision=({"place": "at home", "level": "in_sight", "by": "an aunt"},))
    assert {"en": "ot out of sight. Stay where you see", "es": "o la pierda de vista. Quédese donde vea"}[lang] in page


@BOTH
def test_seconds_to_the_stop_are_a_sentence_with_room_for_those_of_this_chair(lang):
    near = {"place": "at home", "level": "same_room", "by": "an aunt", "reach_s": 1.5}
    page = told("card", lang, supervision=(near,))
    here = {
        "en": "no. Once driving is allowed: a hand on the stop (an aunt). You reach it on this chair in ____ sec",
        "es": "no. Cuando se pueda manejar, deje una mano en el botón de paro (an aunt). Usted llega en ____ seg",
    }[lang]
    assert here in page.replace("[en inglés: «an aunt»]", "an aunt")


@BOTH
def test_hours_alone_have_their_times_and_who_comes_by(lang):
    people = ({"id": "neighbor", "role": "other", "name": "Ned Example", "phone": "555-0100"},)
    visit = {"who": "neighbor", "at": time(12), "helps_with": "a drink"}
    hours = ({"days": ("monday", "friday"), "starts_at": time(11), "ends_at": time(14, 30)},)
    place = ALONE | {"hours": hours, "looks_in": (visit,), "no_answer": "It calls 911."}
    page = told("guide", lang, supervision=(place,), people=people)
    wanted = {
        "en": (
            "Monday, Friday, 11:00 am to 2:30 pm.",
            "At 12:00 pm Ned Example, 555-0100 comes: a drink.",
            "No answer: ",
        ),
        "es": (
            "Lunes, viernes, 11:00 de la mañana a 2:30 de la tarde.",
            "A las 12:00 del mediodía llega Ned Example, 555-0100: a drink.",
            "Si no contestan: ",
        ),
    }
    assert all(words in page for words in wanted[lang]) and "It calls 911." in page
    assert wanted[lang][2] not in told("guide", lang, supervision=(ALONE,))


@BOTH
@pytest.mark.parametrize("driven", ["Eight runs.", None])
def test_no_slope_is_driven_that_nobody_has_written(lang, driven):
    place = {"place": "outside", "level": "arms_length", "stands": "beside", "by": "an aunt", "driven": driven}
    page = told("guide", lang, supervision=(place,))
    assert ({"en": "Level ground only", "es": "Solo piso plano"}[lang] in page) is (driven is None)


@BOTH
def test_the_control_comes_back_after_the_lift_where_that_is_told_apart(lang):
    configuration = {
        "swing": "Press and swing.",
        "features": ({"id": "swing_away_mount", "because": ()},),
    }
    parts = told("guide", lang, configuration=configuration | {"swing_back": "Click it in."})
    sling = {"en": "Keep straps and slings", "es": "Mantenga correas"}[lang]
    assert parts.index("Press and swing.") < parts.index(sling) < parts.index("Click it in.")


@BOTH
def test_how_many_move_the_client_and_in_which_order(lang):
    page = told("guide", lang, sitting={"moved_by": 2, "moving": ("Sling on.", "Then the belt.")})
    assert page.index({"en": "It takes two people of", "es": "Hacen falta dos personas de"}[lang]) < page.index(
        "Sling on."
    )
    assert page.index("Sling on.") < page.index("Then the belt.")


@BOTH
def test_nobody_lifts_a_client_who_moves_alone(lang):
    page = told("guide", lang, sitting={"moved_by": 0, "moving": ("Brace on.",)})
    assert {"en": "nobody lifts", "es": "nadie levanta"}[lang] in page
    assert {"en": "It takes", "es": "Hace"}[lang] not in page[: page.index("Brace on.")].rsplit("Robin", 1)[-1]


@BOTH
@pytest.mark.parametrize("paper", ["card", "guide"])
def test_what_is_worn_is_said_to_be_of_the_check_only_where_somebody_checked(lang, paper):
    worn = {
        "worn": "a thin slipper",
        "mounting": ({"id": "plate", "part": "plate", "site": "foot", "at": "under the toe"},),
    }
    checked = {
        "card": {"en": "Worn at the check", "es": "En la revisión"},
        "guide": {"en": "when checked", "es": "al medir"},
    }
    words = checked[paper][lang]
    assert words in told(paper, lang, configuration=worn | {"worn_checked_by": "therapist"})
    open_yet = told(paper, lang, configuration=worn | {"worn_checked_by": None})
    assert words not in open_yet and "a thin slipper" in open_yet
    assert {"en": "who checked the parts with that on", "es": "quién revisó las piezas con eso puesto"}[
        lang
    ] in open_yet


@BOTH
def test_what_the_brakes_do_and_how_reverse_is_stopped_is_told_where_it_is_recorded(lang):
    stop = {"stop": {"brakes": "They lock.", "backing": "Foot out."}}
    assert "They lock." in told("card", lang, configuration=stop)
    assert "Foot out." in told("guide", lang, configuration=stop)


@BOTH
def test_a_stop_is_let_go_under_a_command_with_a_hand_at_the_power_switch(lang):
    stop = {"stop": {"stop_switch": "a button", "after_stop": "waits", "set_back": "Turn it."}}
    page = told("card", lang, configuration=stop)
    hand = {
        "en": "Your hand at B, nobody in its path.",
        "es": "Ponga la mano en B; nadie en su camino.",
    }[lang]
    assert page.index(hand) < page.index("Turn it.")


@BOTH
@pytest.mark.parametrize("backs", ["a hard sip", None])
def test_nobody_stands_behind_a_chair_that_backs_up_while_its_stop_is_let_go(lang, backs):
    """A hand at each switch of the back put one person right behind it, under a command."""
    stop = {"stop_switch": "a button", "after_stop": "waits", "set_back": "Turn it."}
    commands = ({"does": "back", "input": backs},) if backs else ()
    page = told("card", lang, configuration={"stop": stop, "commands": commands})
    side = {
        "en": "Hand at B; nobody ahead of it or behind.",
        "es": "Mano en B; nadie delante ni atrás.",
    }
    two = {
        "en": "Two, unless you reach A and B from one side.",
        "es": "Entre dos, salvo si alcanza A y B desde un lado.",
    }
    assert (two[lang] in page) is bool(backs)
    forward = {"en": "forward only, keeps trying.", "es": "solo adelante, insiste."}
    assert ((side[lang] in page), (forward[lang] in page)) == (bool(backs), bool(backs))
