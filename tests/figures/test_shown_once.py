"""What whoever signs the log was shown: drawn of every demo as its record says, and of no record that does not."""

from __future__ import annotations

from typing import get_args

import pytest
from support import ASSESSED, DEMOS

from docgen.case.sheets import ByHand
from docgen.figures import shown_once
from docgen.packet.trees import trees
from docgen.packet.wording import language_words
from docgen.scene import Scene

WORDS = language_words()["figures"]


def drawn(case, **stop):
    configuration = case.configuration
    changed = configuration.model_copy(update={"stop": configuration.stop.model_copy(update=stop)})
    return shown_once.scene(case.model_copy(update={"configuration": changed}), None, WORDS)


@pytest.mark.parametrize("name", DEMOS)
def test_each_switch_of_the_record_stands_in_both_ways_with_its_letter_and_the_name_of_every_sheet(name):
    case = ASSESSED[name].file.case
    scene = drawn(case)
    for letter, told in (("A", "stop_switch"), ("B", "power_off"), ("C", "roll_levers")):
        title = WORDS.get(f"stop_{case.configuration.stop.stop_looks}", WORDS[told]) if letter == "A" else WORDS[told]
        assert f"{letter}, {title}: " in scene.alt
    ride = case.transport
    tied = ride.rides_in_chair and ride.four_tie_downs == "yes" and ride.own_belt == "yes"
    assert (WORDS["ride_alt"] in scene.alt) is bool(tied)
    figures = [block.name for block in trees(ASSESSED[name], ["log"])["log"].children if block.kind == "figure"]
    assert figures == ["shown_once"]


@pytest.mark.parametrize(
    ("key", "letter"), [("stop_looks", "A"), ("off_looks", "B"), ("levers_roll", "C"), ("freewheel", "C")]
)
def test_what_the_record_does_not_say_is_not_drawn(key, letter):
    case = ASSESSED["marisol-quenneville-tran"].file.case
    assert f"{letter}, " in drawn(case).alt and f"{letter}, " not in drawn(case, **{key: None}).alt


def test_levers_that_roll_upwards_are_drawn_the_other_way_round():
    case = ASSESSED["marisol-quenneville-tran"].file.case
    down, up = drawn(case), drawn(case, levers_roll="up")
    drop, lift = WORDS["hands_push_down_alt"], WORDS["hands_push_up_alt"]
    assert down.alt.replace(drop, lift) == up.alt and down.shapes != up.shapes


# the words of the page on which each thing stands that the guide points to; those of the acts by hand below
_TOLD = {
    "settings": "settings_alt",
    "pushing": "hands_push_down_alt",
    "charger": "hands_charge",
    "signs": "hands_signs",
    "van": "ride_alt",
}


@pytest.mark.parametrize("name", DEMOS)
def test_the_guide_points_to_what_the_page_shows_and_to_nothing_else(name):
    case = ASSESSED[name].file.case
    page, told = drawn(case).alt, shown_once.pictured(case)
    shown = {kind for kind, word in _TOLD.items() if WORDS[word].partition("{")[0] in page}
    assert shown == _TOLD.keys() & {*told}
    assert ("switches" in told) is ("A, " in page)
    assert ("stand" in told) is any(
        WORDS[f"stand_{way}"] in page for way in ("training", "behind", "beside", "backing")
    )
    bullet = next(
        node for node in trees(ASSESSED[name], ["guide"])["guide"].walk() if node.plain().startswith("Pictures: log")
    )
    assert all(language_words()["drawn"][kind].lower() in bullet.plain().lower() for kind in told)


@pytest.mark.parametrize("act", get_args(ByHand))
def test_each_act_by_hand_that_is_drawn_is_named_in_the_guide(act):
    case = ASSESSED["marisol-quenneville-tran"].file.case
    named = {*shown_once.pictured(by_hand(case, act))} - {*shown_once.pictured(by_hand(case))}
    assert len(named) == 1 and {kind for kind in named if kind in language_words()["drawn"]} == named


def by_hand(case, *acts):
    return case.model_copy(update={"sheets": case.sheets.model_copy(update={"by_hand": acts})})


@pytest.mark.parametrize("act", get_args(ByHand))
def test_each_act_by_hand_has_a_drawing_of_its_own_in_both_languages_and_only_where_it_is_recorded(act):
    case = ASSESSED["marisol-quenneville-tran"].file.case
    for words in (WORDS, language_words("es")["figures"]):
        bare = shown_once.scene(by_hand(case), None, words)
        scene = shown_once.scene(by_hand(case, act), None, words)
        assert len(scene.panels) == len(bare.panels) + 1
        told = words.get(f"hands_{act}_alt") or words.get(f"hands_{act}_first") or words[f"hands_{act}"]
        assert told in scene.alt and told not in bare.alt
        assert {word for word in words if word.startswith("hands_")} == {w for w in WORDS if w.startswith("hands_")}


# what a demo draws is what its rows say that somebody was shown, or what its card and emergency page ask of anyone
ASKED = {
    "sling": "sling",
    "sling_head": "head",
    "in_arms": "carry him out",
    "blanket": "drag him on a blanket",
    "sheet": "on the rescue sheet",
    "sheet_by_two": "bed: two, rescue sheet",
    "yes_eyes_up": "Yes: eyes up",
    "no_eyes_shut": "No: eyes closed, then open",
    "stop_calls_looks_down": "calls out and looks down",
    "yes_foot_up": "left foot up once",
    "no_foot_up_twice": "No: up twice",
    "stop_shouts": "Any shout: stop",
    "leg_bag": "Straighten the bladder tube",
    "cuff": "Measure the blood pressure",
    "legs_up": "legs up",
    "switch_plug": "Plug the knee switch",
    "heel_pendant": "try the call for help",
    "device_plug": "unplug that device",
}


@pytest.mark.parametrize("name", DEMOS)
def test_what_a_demo_draws_by_hand_is_asked_for_on_its_own_sheets(name):
    assessed = ASSESSED[name]
    sheets = trees(assessed, ["card", "guide", "log", "emergency"])
    text = " ".join(tree.plain() for tree in sheets.values()).replace("\n", " ")
    for act in assessed.file.case.sheets.by_hand:
        assert ASKED[act].lower() in text.lower(), act


def test_a_log_fills_its_rows_so_that_no_panel_that_fits_stands_below():
    panels = [Scene(width, 10.0, str(width), ()) for width in (300.0, 300.0, 200.0, 240.0)]
    assert [panel.w for panel in shown_once._filled(panels, 0.0)] == [300.0, 200.0, 300.0, 240.0]
