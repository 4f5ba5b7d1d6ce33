"""What whoever signs the log was shown: drawn of every demo as its record says, and of no record that does not."""

from __future__ import annotations

import pytest
from support import ASSESSED, DEMOS

from docgen.figures import shown_once
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

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
    assert down.alt == up.alt and down.shapes != up.shapes
