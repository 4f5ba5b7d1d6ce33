"""What guide, log, lesson card and plan say against harm: a weight shift with a full mouth, a surprise stop in
reverse, a hand at the stop, talk that drives, what is set back and what is not."""

from __future__ import annotations

import re

import pytest
from made import assessed
from support import ASSESSED
from training_told import MADE, WORDS

from docgen.case.stage import STAGES
from docgen.documents.stages import stage_table
from docgen.figures import lesson_boxes
from docgen.packet.languages import in_language
from docgen.packet.trees import trees
from docgen.scene import Text

ILMARI, MARISOL, SAOIRSE = "ilmari-okonjo-vale", "marisol-quenneville-tran", "saoirse-villalobos-ng"
BOTH = pytest.mark.parametrize("lang", ["en", "es"])


def told(made, paper, lang="en"):
    tree = trees(made, [paper])[paper] if lang == "en" else in_language(made, lang, [paper]).trees[paper]
    return " ".join(tree.plain().split())


@BOTH
def test_nobody_is_tilted_with_a_full_mouth_and_meals_are_taken_with_the_seat_up(lang):
    full = {"en": "Nor with food or drink in the mouth,", "es": "Tampoco con algo en la boca,"}[lang]
    up = {
        "en": "then turn key B on.Hold gray switch G up until all is still.Press A, then turn B off.",
        "es": "encienda la llave B.Sostenga G arriba hasta que todo pare.Oprima A y luego apague B.",
    }[lang]
    shifted, level = told(ASSESSED[MARISOL], "guide", lang), told(ASSESSED[ILMARI], "guide", lang)
    assert full in shifted and up in shifted and full not in level and up not in level
    assert "Nor with food or drink in the mouth," in MADE[MARISOL]["plan"].plain()


def test_a_stop_in_reverse_is_no_surprise_before_the_therapist_has_passed_one():
    cards = MADE[MARISOL]["lesson"].plain().split("Beside the chair: ")[1:]
    reverse = [card for card in cards if "drive in reverse" in card.split("One mark a try")[0]]
    assert len(reverse) == 1 and len(cards) > 1
    never, drawn = "No surprise stops on this card: leave their boxes empty.", "for the tries that carry a stop"
    assert all((never in card, drawn in card) == (card in reverse, card not in reverse) for card in cards)
    assert "never in reverse, until Theodora Wexcombe-Nair has passed a stop there" in MADE[MARISOL]["plan"].plain()
    assert "never in reverse" not in MADE[ILMARI]["plan"].plain()  # the chair has none


def test_a_hand_stays_at_the_stop_while_stops_wait_and_where_backing_out_was_never_tried():
    def near(name, step):
        made = ASSESSED[name]
        stage = next(stage for stage in STAGES if stage.id == step)
        return stage_table(made.file.case, made.evidence, stage, None, WORDS)["near"]

    assert (
        near(SAOIRSE, "corners") == near(SAOIRSE, "tight") == near(MARISOL, "tight") == WORDS["near"]["hands_on_stop"]
    )
    assert near(ILMARI, "tight") == WORDS["near"]["same_room"]  # no reverse, and no stop waits


def test_boxes_of_stops_that_wait_say_so():
    heads = {}
    for name in (SAOIRSE, MARISOL):
        scene = lesson_boxes.scene(ASSESSED[name].file.case, ASSESSED[name].evidence, lesson_boxes.WORDS)
        heads[name] = {shape.text for shape in scene.shapes if isinstance(shape, Text)}
    assert "Once cleared" in heads[SAOIRSE] and "Surprise stops" not in heads[SAOIRSE]
    assert "Surprise stops" in heads[MARISOL] and "Once cleared" not in heads[MARISOL]


@pytest.mark.parametrize(("name", "page"), [(ILMARI, False), (MARISOL, True)])
def test_a_lesson_names_the_emergency_page_only_where_there_is_one(name, page):
    card = MADE[name]["lesson"].plain()
    assert ("Unwell: then the emergency page." in card) is page
    assert ("Unwell: then call as the card says." in card) is not page


def test_stops_made_alone_are_told_before_those_with_help():
    plan = MADE[SAOIRSE]["plan"].plain()
    assert plan.index("47 of 73 made alone") < plan.index("All stops, with or without help: 73 of 73.")


@BOTH
def test_talk_that_can_drive_has_its_rule(lang):
    pads = {
        "en": "Talk with him only in rest or with the chair off",
        "es": "Hablen solo en descanso o con la silla apagada",
    }
    breath = {
        "en": "To talk: control in rest, mouthpiece out",
        "es": "Para hablar: control en descanso, boquilla fuera",
    }
    guides = {name: told(ASSESSED[name], "guide", lang) for name in (ILMARI, MARISOL, SAOIRSE)}
    assert [pads[lang] in one for one in guides.values()] == [True, False, False]
    assert [breath[lang] in one for one in guides.values()] == [False, True, False]


@BOTH
def test_a_lever_that_holds_the_control_is_turned_back_and_a_catch_is_not(lang):
    back = {"en": "Turn the lever back.", "es": "Gire el seguro de regreso."}[lang]
    assert back in told(ASSESSED[MARISOL], "guide", lang) and back not in told(ASSESSED[ILMARI], "guide", lang)


def test_a_chair_that_does_not_drive_may_rest_and_only_what_the_row_names_is_set_back():
    for name, rests in ((ILMARI, True), (MARISOL, True), (SAOIRSE, False)):
        row = re.search(r"It does not drive at all.*?(?=A part was pushed)", told(ASSESSED[name], "guide"))[0]
        assert "power off, set back only what your row names." in row
        assert ("In rest." in row) is rests and ("Wake it." in row) is rests


@BOTH
def test_a_stop_has_the_name_of_what_it_looks_like(lang):
    bar = {
        "en": ("After you press the stop bar.", "Stop bar (A)"),
        "es": ("oprimir la barra de paro", "Barra de paro (A)"),
    }
    guide, log = (told(ASSESSED[SAOIRSE], paper, lang) for paper in ("guide", "log"))
    assert bar[lang][0] in guide and bar[lang][1] in log


def test_whoever_is_trapped_is_freed_by_two_on_the_level_or_waits():
    assert "Then two people move it, levers set to roll. Alone or on a slope: wait for help." in told(
        ASSESSED[ILMARI], "log"
    )


def test_where_nobody_set_how_many_it_takes_only_those_of_a_sling_move_the_client():
    until = "Until then only those move them whose row names the sling and patient lift."
    assert until in told(assessed(client={"called": "Robin", "pronouns": "they"}), "guide")
    assert "Until then only those move" not in told(ASSESSED[ILMARI], "guide")
