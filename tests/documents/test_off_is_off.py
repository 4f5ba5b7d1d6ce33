"""What a senior clinician and an emergency nurse found on the pages that could hurt: the words of each, old and new."""

from __future__ import annotations

from datetime import date

import pytest
from made import assessed
from support import ASSESSED

from docgen.packet.languages import in_language
from docgen.packet.trees import trees
from docgen.packet.wording import wording

BOTH = pytest.mark.parametrize("lang", ["en", "es"])
ARMS = ({"id": "hand_moves_involuntary", "says": "The arms move.", "on": date(2026, 3, 3), "by": "therapist"},)
STOP = {"stop_switch": "red button", "power_off": "front of the armrest", "again": "Pull it out.", "driver": "lets go"}


def told(lang: str, document: str, **case: object) -> str:
    tree = trees(assessed(client={"called": "Robin", "emergency_number": "911"}, **case), [document], wording(lang))
    return " ".join(tree[document].plain().split())


@BOTH
@pytest.mark.parametrize(
    ("arms", "site", "asked"),
    [(ARMS, "armrest_right", True), (ARMS, "back_right", False), ((), "armrest_right", False)],
)
def test_power_off_is_not_enough_where_an_arm_that_moves_by_itself_reaches_the_switch(lang, arms, site, asked):
    """Before a lift, a meal and a ride the chair was only turned off, and an arm could turn it on."""
    stop = STOP | {"power_off_site": site}
    guide = told(lang, "guide", findings=arms, configuration={"stop": stop})
    pressed = {
        "en": (
            "Press A, then turn B off. Do not just stop it.",
            "Press A, then turn B off before a meal",
            "No drive next? Leave A pressed.",
        ),
        "es": (
            "Oprima A y luego apague B. No basta",
            "Oprima A y luego apague B antes de comer",
            "¿No maneja? A oprimido.",
        ),
    }[lang]
    assert [words in guide for words in pressed] == [asked] * 3


@BOTH
def test_someone_trapped_is_freed_and_at_a_fire_anyone_may_push(lang):
    log = told(lang, "log", configuration={"stop": STOP | {"freewheel": "two levers", "levers_roll": "down"}})
    trapped = {
        "en": "Someone is trapped? Power off. Ask 911. Then two people move it, levers set to roll.",
        "es": "¿Alguien atrapado? Apáguela. Pregunte al 911. Luego muévanla entre dos, con las palancas en rodar.",
    }[lang]
    assert trapped in log and {"en": "At smoke or fire, anyone.", "es": "Con humo o fuego, cualquiera."}[lang] in log


@BOTH
@pytest.mark.parametrize("phone", ["555-0100", None])
def test_whoever_is_ill_has_the_number_of_the_doctor(lang, phone):
    doctor = {"id": "doctor", "role": "practitioner", "name": "Nim Example"} | ({"phone": phone} if phone else {})
    call = {
        "en": "Doctor, 555-0100; no answer, and it cannot wait:",
        "es": "Médico, 555-0100. ¿No contesta y no puede esperar?",
    }[lang]
    assert (call in told(lang, "guide", people=(doctor,))) is bool(phone)


@BOTH
@pytest.mark.parametrize("given", [True, False])
def test_the_call_is_tried_in_bed_by_whoever_leaves_for_the_night(lang, given):
    cautions = ({"about": "bed", "says": "The pendant is on its strap."},) if given else ()
    guide = told(lang, "guide", cautions=cautions)
    trial = {
        "en": "First try the call for help, from where it lies then. It fails? Do not leave.",
        "es": "¿No funciona? No se vaya.",
    }
    assert (trial[lang] in guide) is given


@BOTH
@pytest.mark.parametrize("for_now", ["Not used.", None])
def test_nobody_drives_onto_a_lift_while_each_slope_is_barred(lang, for_now):
    ramp = {"place": "ramp", "level": "arms_length", "stands": "beside", "stops_with": "stop_switch", "by": "an aunt"}
    ramp |= {"driven": "Once.", "pushed": "Never."} | ({"for_now": for_now} if for_now else {})
    ride = {
        "rides_in_chair": True,
        "vehicle": "a van with a lap-and-shoulder belt",
        "trained": "an aunt",
        "chair_labeled": "yes",
        "back_deg": 5.0,
    }
    ride |= {
        "four_tie_downs": "yes",
        "own_belt": "yes",
        "head_support": "yes",
        "control": "clear",
        "loose_parts": "none",
    }
    guide = told(lang, "guide", supervision=(ramp,), transport=ride)
    driven = {"en": "If it drives in, use the slowest", "es": "Si la silla sube sin que la empujen"}[lang]
    pushed = {"en": "Do not drive it in.", "es": "Nunca manejándola."}[lang]
    assert (driven in guide, pushed in guide) == (not for_now, bool(for_now))


@BOTH
@pytest.mark.parametrize("site", ["push_handle_right", "back_left", None])
def test_a_helper_stands_on_the_side_of_the_stop(lang, site):
    """A back corner was any corner: the stop is at one."""
    near = {"place": "hall", "level": "arms_length", "stands": "behind", "stops_with": "stop_switch", "by": "an aunt"}
    stop = STOP | ({"stop_switch_site": site, "stop_switch_by": "helper"} if site else {})
    card = told(lang, "card", supervision=(near,), configuration={"stop": stop})
    where = {
        ("en", "push_handle_right"): "Stand at its right back corner",
        ("en", "back_left"): "Stand at its left back corner",
        ("en", None): "Stand at a back corner",
        ("es", "push_handle_right"): ", atrás, del lado derecho",
        ("es", "back_left"): ", atrás, del lado izquierdo",
        ("es", None): ", atrás a un lado",
    }
    assert where[lang, site] in card


def test_what_is_worked_on_a_moving_chair_is_tried_so_at_the_fitting():
    """Power, plug and lock were tried at standstill alone, and helpers are told to work them on a moving chair."""
    setting = ({"setting": "press_window", "value": "1 s"},)
    stop = STOP | {"drive_off": "green lever", "other_way": "pull the plug"}
    commands = [{"does": "rest", "input": "one press of the knee switch"}]
    profiles = [{"id": name, "name": name} for name in ("slow", "fast")]
    case = assessed(configuration={"stop": stop, "settings": setting, "commands": commands, "profiles": profiles})
    order = " ".join(trees(case, ["order"])["order"].plain().split())
    assert "Moving test: at that lowest speed, worked once as it moves" in order
    assert order.count("power test, moving test") == 4  # power, what a helper does, lock, plug
    assert "Until then, set it so: only with the control at rest." in order
    assert "Until then, set it so: the slowest profile, and standby where there is one." in order


def test_quick_presses_of_the_switch_that_stops_are_tried_at_the_fitting():
    order = trees(ASSESSED["ilmari-okonjo-vale"], ["order"])["order"].plain()
    assert "three quick presses, the command kept up: nothing moves" in order


def test_a_stop_that_waits_for_the_therapist_is_asked_of_no_trainer():
    """The plan gave the number of surprise stops, beside a lesson that allowed none."""
    plan = trees(ASSESSED["saoirse-villalobos-ng"], ["plan"])["plan"].plain()
    assert "stops that come as a surprise, none until Emeka Strand-Whitlock has decided." in plan
    assert "no surprise stops until Emeka Strand-Whitlock has decided." in plan
    assert "and then stops come first" not in plan and "surprise stops between them" not in plan
    other = trees(ASSESSED["ilmari-okonjo-vale"], ["plan"])["plan"].plain()
    assert "Then stops come first." in other and "surprise stops between them" in other


def test_a_stop_of_a_lesson_ends_inside_the_room_there_is():
    lesson = trees(ASSESSED["saoirse-villalobos-ng"], ["lesson"])["lesson"].plain()
    told = lesson.replace("\u00a0", " ")
    assert "within 3 ft 3 in (1 m). On the level the smaller counts: training 2 ft 1 in (0.65 m), indoor" in told
    assert "(0.75 m). Less room there? It must end inside the room." in told


def test_a_place_of_a_later_step_and_its_setting_wait_on_card_and_guide_too():
    """Card and guide let her drive at home what the plan had put off."""
    made = trees(ASSESSED["saoirse-villalobos-ng"], ["card", "guide"])
    card, guide = made["card"].plain(), made["guide"].plain()
    led = 'Only in sessions led by Philippa or her therapist. Setting: "training". A hand on the stop bar'
    assert f"At home, with the aide there: no. For now: {led}" in card
    assert "Stay where you see the chair" not in card
    assert 'Do not use "indoor" yet.' in guide and 'Use "indoor"' not in guide


@pytest.mark.parametrize(
    "lang, tired", [("en", "Tired? A head that sinks"), ("es", "¿Cansancio? La cabeza que se hunde")]
)
def test_a_head_that_sinks_and_drives_stands_in_the_warning(lang, tired):
    card = trees(ASSESSED["ilmari-okonjo-vale"], ["card"], wording(lang))["card"]
    warning = next(block for block in card.children if block.kind == "callout")
    assert tired in warning.plain() and card.plain().count(tired) == 1


@pytest.mark.parametrize(
    ("name", "document", "english", "spanish"),
    [
        (
            "ilmari-okonjo-vale",
            "card",
            "In class: no. For now: No driving until",
            "En el salón: no. Por ahora: No maneja hasta",
        ),
        ("ilmari-okonjo-vale", "card", "To the bathroom: in his manual chair.", "Al baño va en su silla manual."),
        (
            "ilmari-okonjo-vale",
            "card",
            "levers up once the chair has stopped.",
            "cualquiera empuja; ya parada, suba las dos.",
        ),
        (
            "saoirse-villalobos-ng",
            "card",
            "levers up once the chair has stopped.",
            "cualquiera empuja; ya parada, suba las dos.",
        ),
        ("marisol-quenneville-tran", "card", "Not settled: who turns her", "Sin resolver: quién la voltea"),
        (
            "marisol-quenneville-tran",
            "emergency",
            "RED sign or above 120: RED.",
            "ROJA o más de 120: ROJA.",
        ),
        (
            "marisol-quenneville-tran",
            "emergency",
            "Lower her sitting: chair, or bed, head up.",
            "Bájela sentada: silla, o cama alzada.",
        ),
        (
            "marisol-quenneville-tran",
            "emergency",
            "she stays up, go on measuring",
            "déjela con el asiento arriba, siga midiendo",
        ),
    ],
)
def test_what_keeps_harm_off_stands_on_the_sheet_of_each_language(name, document, english, spanish):
    """A classroom nobody has judged, a chair let go on loose brakes, a sling and a bed no step spoke of."""
    one = ASSESSED[name]
    assert english in " ".join(trees(one, [document])[document].plain().split())
    assert spanish in " ".join(in_language(one, "es", [document]).trees[document].plain().split())
