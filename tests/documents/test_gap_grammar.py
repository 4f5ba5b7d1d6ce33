"""What stands around a gap or a name of the case reads as English: no verb or unit beside what is not there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from made import BOHDAN, ILMARI, MARISOL, rebuilt

# keys that the letter puts into the middle of a sentence
_KEYS = r"^(height_mm = 12\d\d|width_mm = 6\d\d|turning_mm = |minutes = \d+).*\n"


@pytest.fixture(scope="module")
def letter(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The words of a letter of which these are not recorded, and with a place of a name of several things."""
    folder: Path = tmp_path_factory.mktemp("gaps")
    tree = rebuilt(
        folder,
        ILMARI,
        ("letter",),
        case_toml=lambda text: re.sub(_KEYS, "", text, flags=re.MULTILINE).replace(
            'name = "bathroom door"', 'name = "his own bathroom doors"'
        ),
    )["letter"]
    return " ".join(tree.plain().split())


@pytest.mark.parametrize(
    "sentence",
    [
        "member ID KBC-3391-0472, missing: height, 54 lb (24.5 kg).",
        "The clinic's trial chair is missing: width, turns in missing: turning diameter, and has an obstacle climb of",
        "with at most missing: longest session.",
        "His own bathroom doors have a clear width of",
    ],
)
def test_a_sentence_reads_around_its_gap(sentence: str, letter: str):
    assert sentence in letter


def test_what_a_place_is_said_to_be_like_is_told_of_a_level_one_too(letter: str):
    assert "The kitchen doorway is as wide as the bathroom door." in letter


def test_how_yes_no_and_pain_are_said_is_on_the_card_where_no_emergency_page_is(tmp_path):
    can = '\n[emergency]\ncan = "He looks up for yes and shuts his eyes for pain."\n'
    words = rebuilt(tmp_path, BOHDAN, ("card",), case_toml=lambda text: text + can)["card"].plain()
    assert "Yes, no and pain. He looks up for yes and shuts his eyes for pain." in words


def test_a_feature_that_no_line_brings_is_a_gap_and_not_a_part_that_there_is_not(tmp_path):
    def without_lines(text: str) -> str:
        return re.sub(r"^features = \[[^]]*stop_switch[^]]*\]\n", "", text, flags=re.MULTILINE)

    order = rebuilt(tmp_path, MARISOL, ("order",), case_toml=without_lines)["order"]
    said = next(node.plain() for node in order.walk() if node.plain().startswith("No line brings these:"))
    assert "echanical stop switch" in said and "none" not in said and "line that brings it" in said
