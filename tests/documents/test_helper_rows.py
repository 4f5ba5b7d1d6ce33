"""What a helper may do only with a word in their row of the log: card and guide ask by a word that some row has, and
the log says of which nobody was shown. How near whoever is there stays before the stop of this chair was timed; what
waits for a doctor or a supplier and what does not."""

from __future__ import annotations

import re

import pytest
from made import assessed
from support import ASSESSED

from docgen.packet.languages import in_language
from docgen.packet.trees import trees

BOTH = pytest.mark.parametrize("lang", ["en", "es"])
ASKED = {"en": re.compile(r'"([A-Za-z ]+)" in your row'), "es": re.compile(r'"([A-Za-zñé ]+)" en su rengl')}
NOT_SHOWN = {"en": "Not shown to anyone yet", "es": "nadie lo aprendió todavía"}
TAUGHT = {"who": "aunt", "on": "2026-03-06"}
ILMARI, MARISOL = "ilmari-okonjo-vale", "marisol-quenneville-tran"


def told(made, paper, lang="en"):
    tree = trees(made, [paper])[paper] if lang == "en" else in_language(made, lang, [paper]).trees[paper]
    return " ".join(tree.plain().split())


@BOTH
@pytest.mark.parametrize("name", [name for name, one in ASSESSED.items() if one.file.case.taught])
def test_each_word_by_which_the_guide_asks_for_a_row_is_in_the_log(name, lang):
    asked = {word.lower() for word in ASKED[lang].findall(told(ASSESSED[name], "guide", lang))}
    log = told(ASSESSED[name], "log", lang).lower()
    shown = log[log.index("ayudantes capacitados" if lang == "es" else "trained helpers") :]
    assert len(asked) > 2 and not [word for word in asked if word not in shown.split("push the chair by hand")[0]]


@pytest.mark.parametrize(
    ("what", "lacks"), [("stop, charging", True), ("off and on, stop test, choking, charging", False)]
)
def test_the_log_names_what_nobody_was_shown(what, lacks):
    made = assessed(taught=({"who": "aunt", "what": what},))
    log = told(made, "log")
    assert (f"{NOT_SHOWN['en']}, ask the therapist first: off and on, stop test, choking." in log) is lacks
    assert (NOT_SHOWN["en"] in log) is lacks


def test_where_nobody_was_shown_anything_the_gap_alone_says_so():
    assert NOT_SHOWN["en"] not in told(assessed(), "log")


@BOTH
def test_an_arm_s_length_waits_for_the_time_to_the_stop_as_the_room_does(lang):
    card = told(ASSESSED[ILMARI], "card", lang)
    hand = {
        "en": "no. Once driving is allowed: a hand on the stop",
        "es": "no. Cuando se pueda manejar, deje una mano en el botón de paro",
    }[lang]
    signed = {"en": "Signed ____", "es": "Firma ____"}[lang]
    assert card.count(hand) == 2 and card.count(signed) == 2
    assert told(ASSESSED[ILMARI], "guide").count("hand on the stop until signed on the card. Then ") == 2
    assert "First a hand on the stop, as on the card." in told(ASSESSED[ILMARI], "plan")


@BOTH
@pytest.mark.parametrize(("name", "waits"), [(ILMARI, True), (MARISOL, False)])
def test_an_illness_waits_for_the_doctor_unless_the_cough_is_weak(name, waits, lang):
    cannot = {"en": "no answer, and it cannot wait:", "es": "¿No contesta y no puede esperar?"}[lang]
    assert (cannot in told(ASSESSED[name], "guide", lang)) is waits


@pytest.mark.parametrize(("answers", "closes"), [("Monday to Friday", True), ("day and night", False)])
def test_a_supplier_who_closes_leaves_the_chair_off(answers, closes):
    supplier = {"id": "shop", "role": "supplier", "name": "Nim Example", "phone": "555-0100", "answers": answers}
    assert ("Closed? Leave it off till they open." in told(assessed(people=(supplier,)), "guide")) is closes


@pytest.mark.parametrize(("name", "page"), [(ILMARI, False), (MARISOL, True)])
def test_the_log_speaks_of_an_emergency_page_only_where_there_is_one(name, page):
    assert ("Anyone may do the steps of the emergency page." in told(ASSESSED[name], "log")) is page
