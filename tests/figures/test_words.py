"""Each word that a drawing asks for is there, in its own module or in the language: a failure names drawing and
words."""

from __future__ import annotations

import tomllib

import pytest
from gathered import of_each
from support import ASSESSED

from docgen.figures.draw import figures
from docgen.packet.wording import languages, wording, words_of_drawings
from docgen.resources import folder
from docgen.scene import Text


class Asked(dict):
    """Words that remember which were asked for; one that is not there is its own key."""

    def __init__(self, words):
        super().__init__(words)
        self.missing: set[str] = set()

    def __missing__(self, key):
        self.missing.add(key)
        return key


def lacking(name: str, words) -> set[str]:
    """The words that the drawings of the demo cases ask for and that are not among these."""
    module = figures()[name]
    asked = Asked({**getattr(module, "WORDS", {}), **words})
    for assessed in ASSESSED.values():
        module.scene(assessed.file.case, assessed.evidence, asked)
    return asked.missing


@of_each("name", figures())
def test_a_drawing_lacks_no_word_in_english(name):
    missing = lacking(name, wording().words["figures"])
    assert not missing, f"{name} lacks {', '.join(sorted(missing))}"


@pytest.mark.parametrize("lang", languages())
def test_a_word_that_a_language_lacks_for_its_drawings_is_shown_in_english_and_marked(lang):
    """Skips with the list where there is such a word: a gap in one language, which its pages show."""
    text = tomllib.loads((folder("templates") / lang / "words.toml").read_text(encoding="utf-8"))
    shown = {name for document in wording(lang).documents.values() for name in document.figures}
    missing = {name: sorted(words) for name in sorted(shown) if (words := lacking(name, text.get("figures", {})))}
    mark = text["original"].replace("{text}", "")
    for name, words in missing.items():
        assert all(mark in str(wording(lang).words["figures"][word]) for word in words), name
    if missing:
        pytest.skip(f"{lang} lacks words of drawings, which its pages show in English, marked: {missing}")


def test_a_drawing_shows_a_word_that_its_language_lacks_in_english_marked_and_the_decimal_sign_bare():
    words = words_of_drawings({"original": "[en inglés] {text}", "figures": {"from_above": "dende arriba"}})
    assert (words["from_above"], words["decimal"]) == ("dende arriba", ".")
    assert words["short_months"][0] == "[en inglés] Jan"
    drawn = figures()["gap_gauge"]
    scenes = [drawn.scene(assessed.file.case, assessed.evidence, words) for assessed in ASSESSED.values()]
    shown = [shape.text for scene in scenes if scene for shape in scene.shapes if isinstance(shape, Text)]
    assert "[en inglés] Measure this bar first" in " ".join(shown) and not [text for text in shown if "{" in text]


def test_a_word_taken_away_is_named():
    words = {key: text for key, text in wording().words["figures"].items() if key != "gauge_bar"}
    assert lacking("gap_gauge", words) == {"gauge_bar"}
