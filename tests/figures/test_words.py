"""Each word that a drawing asks for is there, in its own module or in the language: a failure names drawing and
words."""

from __future__ import annotations

import tomllib

import pytest
from support import DEMO_FOLDERS

from docgen.figures.draw import figures
from docgen.packet import assess, languages, wording
from docgen.resources import folder

ASSESSED = [assess(folder) for folder in DEMO_FOLDERS]


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
    for assessed in ASSESSED:
        module.scene(assessed.file.case, assessed.evidence, asked)
    return asked.missing


@pytest.mark.parametrize("name", figures())
def test_a_drawing_lacks_no_word_in_english(name):
    missing = lacking(name, wording().words["figures"])
    assert not missing, f"{name} lacks {', '.join(sorted(missing))}"


@pytest.mark.parametrize("lang", languages())
def test_no_drawing_of_a_document_in_another_language_lacks_a_word_of_it(lang):
    """The words of the language alone, without the English ones that stand in for them."""
    own = tomllib.loads((folder("templates") / lang / "words.toml").read_text(encoding="utf-8"))["figures"]
    shown = {name for document in wording(lang).documents.values() for name in document.figures}
    missing = {name: sorted(words) for name in sorted(shown) if (words := lacking(name, own))}
    assert shown and not missing, missing


def test_a_word_taken_away_is_named():
    words = {key: text for key, text in wording().words["figures"].items() if key != "gauge_bar"}
    assert lacking("gap_gauge", words) == {"gauge_bar"}
