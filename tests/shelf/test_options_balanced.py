"""No control is pushed: the same heads, about as many words, no order that tells, no word that pushes."""

from __future__ import annotations

import re
from itertools import permutations

import pytest
from choices import (
    ANSELM,
    BOHDAN,
    PAGES,
    controls_of,
    findings_of,
    ids_of,
    matters_of,
    text_of,
)

from docgen.documents.options_words import plain_words
from docgen.fit.feature import features
from docgen.packet.options_page import options_context, options_scene, options_tree
from docgen.rendering.readability import LONG_SENTENCE, read_text, reading, sentences
from docgen.rendering.style import FAMILY
from docgen.scene import Text
from docgen.shelf.device import Shelf
from docgen.shelf.read import shipped_shelf

# Words that push towards one option or another, or away from one (a list of our own, from rules on balanced display).
PUSHING = (
    "best|better|ideal|perfect|recommend\\w*|advis\\w*|suits? you|most people|simply|just|only|easy|easily|easier to|"
    "advanced|modern|basic|unfortunately|of course|obviously|superior|excellent|great|safe choice"
)
# Highest ratio of words that any two controls have on a page. Rules of balanced display ask for 1.25; the care of a
# control is told whole, whatever its length, and a contraindication too.
MOST_UNEQUAL = 1.6


@pytest.mark.parametrize(("name", "source"), PAGES)
def test_every_control_has_the_same_heads_and_no_empty_cell(given, name, source):
    made = given(name, source)
    rows, n = controls_of(made), len(made[2].options)
    assert all(set(row) == set(rows[0]) for row in rows)
    assert all(row[key] for row in rows for key in row)
    bearing = findings_of(made)
    assert (bearing.rows or bearing.alike) and all(len(row["cells"]) == n and all(row["cells"]) for row in bearing.rows)
    assert all(point["says"] for row in (*bearing.rows, *bearing.also) for cell in row["cells"] for point in cell)
    assert all(len(row["cells"]) == n and all(row["cells"]) for row in matters_of(made))


@pytest.mark.parametrize(("name", "source"), PAGES)
def test_every_control_has_about_as_many_words(given, name, source):
    """Of the words that are not the record's own: counts, commands and set-up are there of what was tried alone."""
    rows, case = findings_of(given(name, source)).rows, given(name, source)[0].file.case
    recorded = [command.input for command in case.configuration.commands]

    def n_words(at, row):
        points = " ".join(point["says"] for finding in rows for point in finding["cells"][at])
        words = " ".join(text for key, text in row.items() if key != "tried")
        for text in recorded:
            words = words.replace(text, "")
        return len((words + points).split())

    counts = [n_words(at, row) for at, row in enumerate(controls_of(given(name, source)))]
    assert max(counts) / min(counts) <= MOST_UNEQUAL, counts


@pytest.mark.parametrize("order", [*permutations(["finger_stick", "finger_beams", "hand_stick"])][1:])
def test_the_order_of_the_shelf_changes_nothing(given, order):
    shelf = shipped_shelf()
    others = {**{name: shelf.devices[name] for name in order}, **shelf.devices}
    turned = Shelf.model_validate({**shelf.model_dump(exclude={"devices"}), "devices": others})
    case, matched, made = given(BOHDAN, shelf=turned)
    first_case, first_matched, first = given(BOHDAN, "shelf")
    pages = [options_context(case, matched, made), options_context(first_case, first_matched, first)]
    assert pages[0] == pages[1]


def test_another_name_moves_a_control_and_changes_nothing_else(given):
    shelf = shipped_shelf()
    device = shelf.devices["finger_stick"].model_copy(update={"name": "an array of one stick"})
    renamed = Shelf.model_validate(
        {**shelf.model_dump(exclude={"devices"}), "devices": {**shelf.devices, "finger_stick": device}}
    )
    before, after = given(BOHDAN, "shelf"), given(BOHDAN, shelf=renamed)
    assert (ids_of(before[2]), ids_of(after[2])) == (["finger_beams", "finger_stick"], ["finger_stick", "finger_beams"])
    # "an array of one stick" comes before "optical finger switches", and that before "small joystick"
    rows = [{row["name"]: row for row in controls_of(made)} for made in (before, after)]
    same = {key: value for key, value in rows[0]["Optical finger switches"].items() if key != "letter"}
    assert same == {key: value for key, value in rows[1]["Optical finger switches"].items() if key != "letter"}


@pytest.mark.parametrize(("name", "source"), PAGES)
def test_no_word_pushes(given, name, source):
    text = text_of(options_tree(*given(name, source)))
    for option in given(name, source)[2].options:
        for feature in option.judged.device.drives or ():
            care = plain_words()["helpers"].get(feature, features()[feature].care)
            text = text.replace(care, "")  # safety in the guide's sense: "only when nothing ..."
    assert not re.findall(rf"\b(?:{PUSHING})\b", text, re.IGNORECASE)
    assert "This page favors none" in text and "The order is that of the alphabet" in text


def test_the_words_of_no_feature_push():
    words = plain_words()
    texts = [*(text for table in ("works", "speed", "body", "good") for text in words[table].values())]
    texts += [entry["says"] for entry in words["matters"]]
    assert not re.findall(rf"\b(?:{PUSHING})\b", " ".join(texts), re.IGNORECASE)


def test_the_words_of_features_belong_to_features():
    words = plain_words()
    named = {name for table in ("works", "speed", "body", "good") for name in words[table]}
    named |= {name for entry in words["matters"] for name in entry.get("feature", "").split()}
    assert named <= set(features())
    named |= {
        *words["helpers"],
        *words["ask"],
        *(name for of in ("of_the_chair", "no_answer") for names in words[of].values() for name in names),
    }
    drives = {name for name, feature in features().items() if feature.part == "control"}
    assert drives - words["good"].keys() == set()


@pytest.mark.parametrize(("name", "source"), PAGES)
def test_it_is_read_at_the_sixth_grade_at_most(given, name, source):
    """Flesch-Kincaid, as the guide is measured; counts of docgen's reference on leaflets (mean 8 to 10, none over
    20 words: common practice, from memory)."""
    tree = options_tree(*given(name, source))
    measured = reading(tree)
    assert measured.grade <= 6 and measured.smog <= 7
    assert measured.words_per_sentence <= 10 and measured.long_sentences == ()
    assert all(len(s.split()) <= LONG_SENTENCE for s in sentences(read_text(tree)))
    assert not any(node.kind == "list" and len(node.children) > 7 for node in tree.walk())


def test_nothing_of_it_is_under_twelve_points(given):
    assert min(FAMILY.body.size, FAMILY.item.size, FAMILY.cell.size, FAMILY.caption.size) >= 12
    scene = options_scene(given(ANSELM)[2].options)
    letters = [shape for shape in scene.shapes if isinstance(shape, Text)]
    assert {shape.text for shape in letters} == {"A", "B"} and min(shape.size for shape in letters) >= 10
    assert scene.alt.endswith("A: hand; B: head.")


def test_the_driver_is_drawn_alike_for_each_control(given):
    one, other = (options_scene([option]) for option in given(ANSELM)[2].options)
    assert (one.w, one.h) == (other.w, other.h)
    alike = set(one.shapes) & set(other.shapes)
    assert len(alike) >= len(one.shapes) - 6 and len(set(one.shapes) - alike) > 0
