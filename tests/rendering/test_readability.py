"""Reading measures: published worked examples, counting by hand, and agreement with a general library."""

from __future__ import annotations

import re

import pytest
from gathered import of_each
from support import DEMO_FOLDERS, assess

from docgen.packet.trees import trees
from docgen.rendering.readability import grade_level, read_text, reading, reading_ease, sentences, smog_grade, syllables
from docgen.rendering.tree import parse

EASY = (
    "Check the head pads each day. Wipe them with a damp cloth. Turn the chair off before you lift a child in or out. "
    "Call the clinic if a switch sticks."
)
HARD = (
    "The evaluation demonstrated that the individual operated the alternative interface independently. "
    "Consequently, the "
    "interdisciplinary team recommended a proportional system."
)


@pytest.mark.parametrize(
    "counts, expected",
    [
        ((6, 1, 6), 116.145),  # six one-syllable words; 116 widely quoted (from memory)
        ((13, 1, 24), 37.4554),  # the platypus sentence of the encyclopedia's example
        ((1, 1, 1), 121.22),  # the highest there is, from the formula of Flesch 1948
    ],
)
def test_reading_ease_gives_the_published_values(counts, expected):
    assert reading_ease(*counts) == pytest.approx(expected, abs=5e-4)


@pytest.mark.parametrize(
    "counts, expected, digits",
    [
        ((1, 1, 1), -3.40, 5e-3),  # lowest grade, published as -3.4
        ((13, 1, 24), 11.3, 5e-2),  # the platypus sentence, published as 11.3
        (
            (5700, 1000, 5814),
            -1.3,
            5e-2,
        ),  # Green Eggs and Ham: 5.7 words a sentence, 1.02 syllables a word, published as -1.3
        ((271, 10, 369), 11.0462, 5e-5),  # Gettysburg Address, Bliss copy, syllables by the CMU dictionary
    ],
)
def test_grade_gives_the_published_values(counts, expected, digits):
    assert grade_level(*counts) == pytest.approx(expected, abs=digits)


@pytest.mark.parametrize("long_words, grade", [(1, 8.84), (2, 11.21), (3, 13.02), (4, 14.55)])
def test_smog_follows_the_regression_of_mclaughlin(long_words, grade):
    # 1.0430 sqrt(30 p) + 3.1291 for p long words a sentence (McLaughlin 1969), worked by hand
    assert smog_grade(1, long_words) == pytest.approx(grade, abs=5e-3)


def test_smog_is_least_without_long_words():
    assert smog_grade(30, 0) == pytest.approx(3.1291)


@pytest.mark.parametrize(
    "text, words, n_sentences, n_syllables, n_long",
    [
        (EASY, 31, 4, 33, 0),  # counted by hand
        (HARD, 19, 2, 58, 11),  # counted by hand
    ],
)
def test_counts_equal_a_count_by_hand(text, words, n_sentences, n_syllables, n_long):
    found = reading(parse(text))
    assert (found.n_words, found.n_sentences) == (words, n_sentences)
    assert found.n_syllables == pytest.approx(n_syllables, abs=2)
    assert found.n_long_words == pytest.approx(n_long, abs=1)


@of_each(
    "word, count",
    [
        ("pad", 1),
        ("caregiver", 4),
        ("wheelchair", 2),
        ("therapist", 3),
        ("proximity", 4),
        ("switch", 1),
        ("12", 1),
        ("set-up", 2),
    ],
)
def test_syllables_of_a_word(word, count):
    assert syllables(word) == count


def test_headings_captions_and_bare_labels_are_not_read_as_prose():
    tree = parse(
        "# Title\n\nOne sentence.\n\n- an item\n- another: \n\nTable: Caption\n\n| a | b |\n|:--|:--|\n| "
        "label | Call us. |\n"
    )
    assert read_text(tree) == ["One sentence.", "an item.", "another.", "Call us."]


def test_a_point_inside_a_number_ends_no_sentence():
    assert sentences(["Stop in 0.5 m. Then wait.", "See 3.5 on it."]) == [
        "Stop in 0.5 m.",
        "Then wait.",
        "See 3.5 on it.",
    ]


def test_long_passive_and_trade_words_are_found():
    found = reading(parse("The latched pad was set by you. Go."), {"latched": "keeps going", "tone": "stiffness"})
    assert (found.passive_share, found.you_share, found.terms) == (0.5, 0.5, (("latched", 1),))
    assert reading(parse("word " * 21)).long_sentences


def test_a_document_without_a_sentence_has_no_grade():
    assert reading(parse("# Title")) is None


@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda f: f.name)
@pytest.mark.parametrize("name", ["guide", "letter"])
def test_measures_agree_with_a_general_library(folder, name):
    textstat = pytest.importorskip("textstat")
    tree = trees(assess(folder), [name])[name]
    found = reading(tree)
    # textstat 0.7.8 ends a sentence at a point inside a number
    text = re.sub(r"(?<=\d)\.(?=\d)", "", "\n".join(sentences(read_text(tree))))
    # textstat 0.7.8 counts syllables by the CMU dictionary; one grade and a twentieth of the syllables are its
    # documented play
    assert found.n_syllables == pytest.approx(textstat.syllable_count(text), rel=0.05)
    assert found.n_words == pytest.approx(textstat.lexicon_count(text), rel=0.02)
    assert found.grade == pytest.approx(textstat.flesch_kincaid_grade(text), abs=1.0)
    assert found.smog == pytest.approx(textstat.smog_index(text), abs=1.0)
