"""What can hurt where two places of a packet differ, or where a page says less than the record: in both languages."""

from __future__ import annotations

import re
from datetime import date

import pytest
from made import MARISOL, assessed
from safe_pages import BOTH, CREW, PEOPLE, SEEN, SIGN, SIGNS, at_risk, pages, words
from support import ASSESSED, DEMOS

from docgen.figures.stop_sites import switches_of
from docgen.packet.languages import in_language
from docgen.packet.trees import trees

# ---- fire: one order, wherever it is told --------------------------------------------------------

FIRE = {"en": "Smoke or fire: ", "es": "Humo o fuego: "}
UNTOLD = {
    "en": "not recorded: what comes first here at smoke or fire. Do as the plan of the place says, and call",
    "es": "sin anotar: qué va primero aquí con humo o fuego. Haga lo que dice el plan del lugar y llame",
}
OLD_ORDERS = ("first get", "primero aleje", "smoke or fire: your emergency", "humo o fuego: emergencias")


@BOTH
@pytest.mark.parametrize("name", DEMOS)
def test_the_card_gives_the_one_order_at_smoke_or_fire_and_the_guide_leads_there(name, lang):
    case = ASSESSED[name]
    told = pages(case, lang)
    after = [text for page in told for text in re.split(re.escape(FIRE[lang]), page)[1:]]
    own = next((caution.says for caution in case.file.case.cautions if caution.about == "fire"), UNTOLD[lang])
    spaced = re.sub(r"(?<=\.)(?=\w)", " ", re.sub(r"\b\d\. ", "", after[0]).strip())  # one step a line
    assert spaced.lower().startswith(own.lower()) and FIRE[lang] in told[0]
    leads = {"en": "the card. Unplug the chair only", "es": "vea la tarjeta. Desconecte la silla solo"}[lang]
    assert len(after) == 2 and after[1].startswith(leads)
    assert not [old for old in OLD_ORDERS if old in " ".join(told).lower()]


@BOTH
def test_without_a_plan_for_fire_the_plan_of_the_place_holds_and_none_is_made_up(lang):
    told = words(assessed(client={"called": "Robin"}), lang, "card")
    assert told.count(UNTOLD[lang]) == 1 and told.count(FIRE[lang]) == 1


# ---- signs that come first -----------------------------------------------------------------------

FIRST = {"en": ": then the emergency page", "es": ": luego la hoja de emergencia"}
NAMED = re.compile(
    r"(?i)head ?ache|sore head|red face|goose bumps|sweat on"
    r"|dolor (fuerte )?de cabeza|cara roja|duele el cuello o la cabeza"
)
NECK = {
    "en": "a sore neck and a headache. A headache or another sign: first the emergency page.",
    "es": "el cuello o la cabeza. La cabeza u otra señal: primero la hoja de emergencia.",
}


@BOTH
def test_signs_that_come_first_stand_on_side_one_and_where_the_neck_is_asked_about(lang):
    told = pages(at_risk(signs=SIGNS, cannot="move"), lang)
    sign = f"{SIGN.capitalize()}{FIRST[lang]}."
    assert sign in told[0] and NECK[lang] in " ".join(told)
    assert sum(sign in page for page in told) == 2  # side one of the card, and the booklet


@BOTH
def test_where_nobody_gave_the_signs_a_gap_stands_in_their_place(lang):
    told = words(at_risk(cannot="move"), lang)
    assert told.lower().count(FIRST[lang]) == 2 and SIGN not in told


@BOTH
def test_without_such_a_condition_nothing_of_it_stands_there(lang):
    told = words(assessed(client={"called": "Robin"}), lang).lower()
    assert FIRST[lang] not in told


@BOTH
def test_no_page_of_the_demo_sends_a_headache_elsewhere_first(lang):
    """Each sentence that names such a sign leads to the emergency page, or says itself that she comes up first."""
    case = ASSESSED[MARISOL]
    made = in_language(case, lang, ["guide"]).trees["guide"] if lang != "en" else trees(case, ["guide"])["guide"]
    leads = re.compile(r"(?i)emergency page|hoja de emergencia|bring her up first|primero enderece el asiento|911")
    blocks, in_emergency = [], False
    for block in made.children:
        if block.kind == "heading" and block.level == 2:
            in_emergency = block.plain() in ("In an emergency", "En una emergencia")
        rows = block.children if block.kind in ("list", "table") else [block]
        blocks += [] if in_emergency else [row.plain() for row in rows]
    named = [block for block in blocks if NAMED.search(block)]
    assert len(named) >= 2 and not [block for block in named if not leads.search(block)]


def test_a_lesson_stops_at_every_sign_of_the_emergency_page():
    told = words(at_risk(signs=SIGNS, cannot="move"), "en", "plan")
    stops = told.split("end the session at once when")[1].split("Training Sessions")[0]
    assert "Then do as the emergency page" in stops
    assert all(f"{sign['says']}: {sign['first']}" in stops for sign in SIGNS)
    assert "not recorded: the signs at which a session ends" in words(at_risk(cannot="move"), "en", "plan")


# ---- the page that hangs -------------------------------------------------------------------------


def _answered(**given: str) -> tuple[dict[str, object], ...]:
    answers = tuple({"ask": ask, "says": says, **SEEN} for ask, says in given.items())
    return ({"id": "autonomic_dysreflexia", "answers": answers},)


@BOTH
def test_where_the_seat_ends_and_what_the_chair_needs_for_it_is_told_or_a_gap(lang):
    labels = {"en": ("Seat fully up:", "Chair off:"), "es": ("Asiento hasta arriba:", "Silla apagada:")}[lang]
    raw = {
        "client": {"called": "Robin"},
        "people": PEOPLE,
        "diagnoses": ({"code": "S14.114A", "name": "spinal cord injury at C4"},),
        "emergency": {"signs": SIGNS, "cannot": "move"},
    }
    answers = _answered(fully_up="It stops at the red dot.", chair_off="Key on first.")
    told = words(assessed(**raw, conditions=answers), lang, "emergency")
    assert f"{labels[0]} It stops at the red dot." in told and f"{labels[1]} Key on first." in told
    bare = words(assessed(**raw), lang, "emergency").lower()
    missing = {"en": "not recorded: {}", "es": "sin anotar: {}"}[lang]
    assert all(missing.format(label.lower().rstrip(":")) in bare for label in labels)


@BOTH
def test_a_sign_without_steps_says_what_comes_after_or_shows_a_gap(lang):
    steps = ({"says": "Seat up.", "moves": "upright", "serves": ("autonomic_dysreflexia.first_aid",), **SEEN},)
    told = words(at_risk(signs=SIGNS[::2], steps=steps, cannot="move"), lang, "emergency").lower()
    label = {"en": "not recorded: what comes after that", "es": "sin anotar: qué sigue después"}[lang]
    assert told.count(label) == 1
    with_then = (SIGNS[0], SIGNS[2] | {"then": "Open the collar."})
    told = words(at_risk(signs=with_then, steps=steps, cannot="move"), lang, "emergency").lower()
    assert label not in told and "call for help. open the collar." in told


@BOTH
@pytest.mark.parametrize(("names", "born"), [(True, True), (False, False), (None, False)])
def test_the_date_of_birth_stands_on_the_page_that_hangs_where_that_was_agreed(lang, names, born):
    consent = CREW | ({} if names is None else {"names_birth_date": names})
    case = assessed(
        client={"called": "Robin", "born_on": date(1991, 9, 14)},
        people=PEOPLE,
        emergency={
            "steps": ({"says": "Off.", **SEEN},),
            "consent": consent,
            "entry": "Back door.",
            "restart_by": "nurse",
        },
    )
    told = words(case, lang, "emergency")
    assert ("1991" in told) is born and "Back door." in told and "1991" not in words(case, lang)
    assert "Nim Example (nurse line, 555-0100)" in told and "Nim Example (nurse line), " in told


# ---- the stop test -------------------------------------------------------------------------------

OWN = {"en": "presses E", "es": "oprime E"}


@BOTH
@pytest.mark.parametrize("own", [True, False])
def test_the_stop_test_tries_the_helpers_stop_and_the_drivers_own(lang, own):
    stop = {"stop_switch": "red pad at the cheek", "driver": "presses it", "power_off": "there", "after_stop": "waits"}
    stop |= {"helper_switch": "box behind", "stop_switch_by": "both"} if own else {}
    told = pages(assessed(client={"called": "Robin"}, configuration={"stop": stop}), lang)
    assert OWN[lang] not in told[0]  # a helper has a stop of their own
    morning = told[1]
    assert (OWN[lang] in morning) is own
    still = {"en": "A new try at once: it must stay still", "es": "enseguida, sin E: no debe moverse"}[lang]
    assert (still in morning) is own
    if own:
        once = {"en": "Press E once, let go: it must stop.", "es": "Oprima E una vez y suéltelo: debe parar."}
        by_a_helper = once[lang]  # a second press, held, may set it to drive
        assert by_a_helper in morning and "E: red pad at the cheek" in morning


OTHER = {"en": "Press the other stop switch, E,", "es": "Oprima el otro botón de paro, E,"}


@BOTH
@pytest.mark.parametrize("by", ["helper", None, "both"])
def test_a_second_switch_of_helpers_is_pressed_by_helpers_and_by_no_driver(lang, by):
    """The stop test asked a driver to press, while driving, a switch that only helpers reach."""
    stop = {"stop_switch": "red knob", "stop_switch_by": by, "helper_switch": "box behind"}
    case = assessed(client={"called": "Robin"}, configuration={"stop": stop})
    first, morning = pages(case, lang)[:2]
    assert (OWN[lang] in morning, OTHER[lang] in morning) == (by == "both", by != "both")
    offered = {"en": "Or the other one, E: ", "es": "O el otro, E: "}[lang]
    assert (offered in first) is (by == "helper")
    unsaid = {"en": "not recorded: who reaches the stop switch", "es": "sin anotar: quién alcanza el botón de paro"}
    assert (unsaid[lang] in morning) is (by is None)
    assert (", or E: red knob" in words(case, "en", "guide")) is (by == "helper")
    drawn = {letter: name for letter, _, name, _, _ in switches_of(case.file.case)}
    assert drawn == {"A": "stop_switch", "E": "drivers_own" if by == "both" else "second_stop"}


@BOTH
def test_the_log_has_a_column_for_each_stop(lang):
    told = words(assessed(client={"called": "Robin"}, configuration={"stop": {"stop_switch": "here"}}), lang, "log")
    assert {
        "en": "Stops on call (Start, step four)Stop switch (A)",
        "es": "Paró al pedirlo (Inicio, paso cuatro)Botón de paro (A)",
    }[lang] in told


# ---- a stop that is a command, and a setting that another must change ----------------------------


@BOTH
def test_how_a_stop_is_told_from_a_command_is_told_where_the_control_is(lang):
    stop = {"told_apart": "A new press only."}
    told = words(assessed(client={"called": "Robin"}, configuration={"works": "It goes.", "stop": stop}), lang)
    assert "It goes. A new press only." in told


@BOTH
@pytest.mark.parametrize("by", ["driver", "helper", "both", None])
def test_who_sets_the_speed_of_a_place_is_told_or_a_gap(lang, by):
    profiles = tuple({"id": one, "name": one, "used": "there"} for one in ("slow", "fast"))
    set_by = {"choose": "Slide the switch."} | ({"choose_by": by} if by else {})
    told = words(assessed(client={"called": "Robin"}, configuration={"profiles": profiles, **set_by}), lang)
    helper = {"en": "Not set yet? Do not drive in.", "es": "¿No está puesto? No entren."}[lang]
    gap = {"en": "ot recorded: who reaches what changes", "es": "in anotar: quién alcanza el cambio"}[lang]
    assert (helper in told) is (by == "helper") and (gap in told) is (by is None)


# ---- sentences of any record ---------------------------------------------------------------------

WAITS = {"en": "Do not shift weight when: After meals.", "es": "No cambie el peso en este caso: After meals."}


@BOTH
def test_the_card_says_that_a_weight_shift_waits_and_not_when_it_is_due(lang):
    """Bare, "after meals" behind its minutes is the opposite of what the record says."""
    shift = {"tilt_deg": 30, "hold_min": 2, "every_min": 30, "starts": "driver", "not_when": "After meals."}
    _, first = pages(assessed(client={"called": "Robin"}, weight_shift=shift), lang, "card")
    assert WAITS[lang] in first and first.count("After meals") == 1


@pytest.mark.parametrize(
    ("name", "lang"), [("guide", "en"), ("emergency", "en"), ("plan", "en"), ("guide", "es"), ("emergency", "es")]
)
def test_a_sign_written_as_a_sentence_ends_with_one_stop(name, lang):
    sign = {**SIGNS[0], "says": "Pounding headache, red face.", "first": "Seat all the way up.", "then": "Call."}
    told = words(at_risk(signs=(sign, *SIGNS[1:]), cannot="move"), lang, name)
    assert "ounding headache, red face" in told and not re.search(r"\.[.:;]", told)


HELPERS = {"en": ["It takes one person.", "It takes two people."], "es": ["Hace falta una persona.", "Hacen falta dos"]}


@BOTH
@pytest.mark.parametrize("needs", [1, 2])
def test_how_many_people_a_slope_takes_is_told_of_one_too(lang, needs):
    place = {"place": "ramp", "level": "arms_length", "needs": needs, "driven": "Twice.", "stands": "behind"}
    told = words(assessed(client={"called": "Robin"}, supervision=(place,)), lang)
    assert HELPERS[lang][needs - 1] in told


# ---- what the person cannot do, and of which chair a figure is -------------------------------------


@BOTH
@pytest.mark.parametrize("said", ["speak", "cannot speak", "She cannot speak"])
def test_what_the_person_cannot_do_is_said_once(lang, said):
    told = words(at_risk(signs=SIGNS, cannot=said), lang, "emergency")
    assert {"en": "Robin cannot speak.", "es": "Robin no puede speak."}[lang] in told


@BOTH
def test_what_the_person_cannot_do_is_a_gap_in_words_where_nobody_recorded_it(lang):
    told = words(at_risk(signs=SIGNS), lang, "emergency")
    gap = {"en": "not recorded: what the client cannot do.", "es": "sin anotar: "}[lang]
    assert gap in told.lower() and "cannot not" not in told and "no puede sin" not in told.lower()


# ---- smoke or fire -------------------------------------------------------------------------------


@BOTH
def test_what_a_place_records_of_a_fire_stands_on_the_card(lang):
    """The card said that nothing was recorded, beside the plan of the place."""
    place = {"place": "Alder Court", "level": "on_call", "by": "staff", "fire_plan": "Staff comes and gets her out."}
    unsaid = {"en": "what comes first here at smoke or fire", "es": "qué va primero aquí con humo o fuego"}[lang]
    first = pages(assessed(client={"called": "Robin"}, supervision=(place,)), lang)[0]
    assert "Staff comes and gets her out." in first and unsaid not in first
    elsewhere = {"en": "Elsewhere: do as the plan of the place says, and call", "es": "En otro lugar, siga el plan"}[
        lang
    ]
    assert elsewhere in first
    assert unsaid in pages(assessed(client={"called": "Robin"}, supervision=(place | {"fire_plan": None},)), lang)[0]
    caution = ({"about": "fire", "says": "Out by the front door."},)
    first = pages(assessed(client={"called": "Robin"}, supervision=(place,), cautions=caution), lang)[0]
    assert "Out by the front door." in first and unsaid not in first
