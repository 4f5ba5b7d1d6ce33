"""A language that is one new folder: its documents are made, and its own formula says how easy they are to read."""

from __future__ import annotations

import shutil
from importlib import import_module

import pytest
from support import DEMO_FOLDERS, NOT_REVIEWED

from docgen.packet.assess import assess
from docgen.packet.languages import in_language
from docgen.packet.reading import reading_facts
from docgen.packet.wording import _own_wording as wording_of
from docgen.packet.wording import languages
from docgen.resources import folder

SOURCE = next(folder for folder in DEMO_FOLDERS if folder.name == "pilar-nakashima-holt")
READING = """
least = 10.0
bands = [[10.0, "glat"], [-inf, "rau"]]
unspoken = [["h", ""]]
nucleus = "[aeiou]"

[[formulas]]
id = "murn"
name = "MURN"
label = "smoothness (Murn)"
base = 100.0
per_syllable = 10.0
per_word = 1.0
source = "invented for this test"
"""


@pytest.fixture
def with_new_language(tmp_path, monkeypatch):
    """The templates with a folder more: that of Spanish under another tag, with another formula."""
    templates = tmp_path / "templates"
    shutil.copytree(folder("templates"), templates)
    shutil.copytree(templates / "es", templates / "xx")
    (templates / "xx" / "reading.toml").write_text(READING, encoding="utf-8")
    module = import_module("docgen.packet.wording")  # the package gives a function under this name
    monkeypatch.setattr(module, "folder", lambda name: templates if name == "templates" else folder(name))
    return templates / "xx"


@pytest.fixture(autouse=True)
def read_anew():
    """The wording is kept once it is read: each test here reads its own."""
    wording_of.cache_clear()
    yield
    wording_of.cache_clear()


def test_its_documents_are_made_and_scored_by_its_own_formula(with_new_language):
    assert languages() == ("es", "xx")
    foreign = in_language(assess(SOURCE), "xx")
    assert "guide" in foreign.trees
    reading = foreign.readings()["guide"]
    by_hand = 100 - 10 * reading.n_syllables / reading.n_words - reading.n_words / reading.n_sentences
    assert reading.scores == {"murn": pytest.approx(by_hand)}
    assert any(f"guide reads glat (MURN {by_hand:.0f})" in line for line in foreign.remarks())


def test_its_scores_are_facts_of_a_case_that_has_phrases_of_it(with_new_language, tmp_path):
    case = tmp_path / SOURCE.name
    shutil.copytree(SOURCE, case, ignore=NOT_REVIEWED)
    (case / "es.toml").rename(case / "xx.toml")
    fact = next(fact for fact in reading_facts(assess(case)) if fact.id == "murn.guide.xx")
    assert fact.label.startswith("smoothness (Murn)") and fact.source == "invented for this test"
    assert fact.formula == "100 - 10 syllables/word - words/sentence" and fact.verdict == "glat"


def test_without_a_formula_it_has_no_score(with_new_language):
    (with_new_language / "reading.toml").unlink()
    foreign = in_language(assess(SOURCE), "xx")
    assert foreign.trees and foreign.readings() == {}
    assert not any("reads" in line for line in foreign.remarks())
