"""What a helper must not have to guess: where to stand, when a faster setting is used, who helps when someone chokes,
what comes first at smoke on a ride, who is there at the first reverse."""

from __future__ import annotations

import pytest
from made import assessed
from support import ASSESSED
from training_told import MADE

from docgen.figures.helper_places import helper_panels
from docgen.packet.languages import in_language
from docgen.packet.trees import trees
from docgen.packet.wording import language_words
from docgen.scene import Text

BOTH = pytest.mark.parametrize("lang", ["en", "es"])
ILMARI, MARISOL = "ilmari-okonjo-vale", "marisol-quenneville-tran"
WORDS = language_words()["figures"]


def told(paper, lang="en", **case):
    """The words of one paper, the marks of another language taken out."""
    made = assessed(client={"called": "Robin"}, **case)
    tree = trees(made, [paper])[paper] if lang == "en" else in_language(made, lang, [paper]).trees[paper]
    return tree.plain().replace("[en inglés: «", "").replace("»]", "").replace("\n", " ")


@pytest.mark.parametrize(("site", "side"), [("back_left", -1), ("push_handle_right", 1), ("back_right", 1)])
def test_a_helper_is_drawn_on_the_side_of_the_stop_that_they_press(site, side):
    case = ASSESSED[MARISOL].file.case
    stop = case.configuration.stop.model_copy(update={"helper_switch_site": site})
    case = case.model_copy(update={"configuration": case.configuration.model_copy(update={"stop": stop})})
    backing = next(scene for scene in helper_panels(case, WORDS) if scene.alt.startswith(WORDS["stand_backing"]))
    you = next(shape for shape in backing.shapes if isinstance(shape, Text) and shape.text == WORDS["helper_here"])
    assert (you.x > backing.w / 2) is (side == 1)


@BOTH
def test_a_faster_setting_and_a_drive_outside_sessions_wait_for_the_step(lang):
    profiles = {"slow": {"name": "slow", "used": "in sessions", "until_stage": "corners"}, "fast": {"name": "fast"}}
    staged = tuple({"id": key, **profile, "used": "indoors"} for key, profile in profiles.items())
    only, then = {
        "en": ("Until then, drive only in sessions.", 'Do not use "fast" yet.'),
        "es": ("Hasta entonces, solo en sesiones de manejo.", 'Todavía no use "fast".'),
    }[lang]
    page = told("guide", lang, configuration={"profiles": staged})
    assert only in page and then in page
    free = tuple({key: value for key, value in one.items() if key != "until_stage"} for one in staged)
    page = told("guide", lang, configuration={"profiles": free})
    assert only not in page and then not in page


@BOTH
def test_whoever_chokes_is_helped_as_shown_and_smoke_on_a_ride_brings_everybody_out(lang):
    one = ASSESSED[ILMARI]
    tree = trees(one, ["guide"])["guide"] if lang == "en" else in_language(one, lang, ["guide"]).trees["guide"]
    page = tree.plain()
    shown, out = {
        "en": (
            "help as shown. Not in it: give no food or drink. First have the doctor show you",
            "Smoke? Stop, all out",
        ),
        "es": ("ayude como le enseñaron", "¿Humo? Pare y salgan todos"),
    }[lang]
    assert shown in page and out in page


def test_the_first_reverse_is_with_the_therapist_and_no_stop_is_waited_for():
    lesson = MADE[MARISOL]["lesson"].plain()
    assert "Reverse is new: no try of it is recorded. First tries only with Theodora Wexcombe-Nair." in lesson
    for name in (ILMARI, MARISOL):
        assert "A stop that does not come: do not prompt, stop the chair." in MADE[name]["plan"].plain()


@BOTH
@pytest.mark.parametrize("given_by", ["Robin", None])
def test_an_address_and_what_a_crew_must_know_are_told_with_consent_alone(lang, given_by):
    emergency = {
        "address": "12 Example Way.",
        "medicine": "54 lb, no medicine.",
        "consent": {"given_by": given_by, "names_medicine": True},
    }
    card, guide = (told(paper, lang, emergency=emergency) for paper in ("card", "guide"))
    blank = {"en": "write it now", "es": "anótelo ya"}[lang]
    assert ("12 Example Way." in card) is bool(given_by) and (blank in card) is not bool(given_by)
    assert ("54 lb, no medicine." in guide) is bool(given_by)
