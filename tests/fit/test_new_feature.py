"""A feature that is one new file: it shows up everywhere with no change of code."""

from __future__ import annotations

import shutil

import pytest
from in_full import text_in_full
from support import DEMO_FOLDERS, NOT_REVIEWED

import docgen.fit.feature
from docgen.console.features import feature_text, features_text
from docgen.console.fit import fit_text
from docgen.console.fit_json import fit_json
from docgen.library import fit_in
from docgen.packet.assess import assess
from docgen.packet.languages import in_language
from docgen.packet.trees import trees

NEW = """
name = "warm cover on the pads"
part = "fitting"
kinds = ["breath"]
what = "A thin heated cover keeps the pads at the warmth of the skin."
called_for_by = ["head_three_way"]
trial = "touches missed with cold and with warm pads on the same cold morning"
justification = "Cold pads make this kind of neck stiffen, and warm ones do not."
without = "On cold mornings the pads are met late or not at all."
care = "Unplug the cover before you wash it."
training = "Start each lesson with the pads warm."
source = "common practice, no source"
"""


@pytest.fixture
def with_new_feature(tmp_path, monkeypatch):
    """The demo case that asks for the new feature, with the feature's file beside the others."""
    folder = tmp_path / "features"
    shutil.copytree(docgen.fit.feature._FOLDER, folder)
    (folder / "warm_cover.toml").write_text(NEW, encoding="utf-8")
    monkeypatch.setattr(docgen.fit.feature, "_FOLDER", folder)
    case = tmp_path / "ilmari-okonjo-vale"
    shutil.copytree(
        next(path for path in DEMO_FOLDERS if path.name == case.name),
        case,
        ignore=NOT_REVIEWED,
    )
    text = text_in_full(case)
    asked = '[[configuration.features]]\nid = "warm_cover"\nbecause = ["head_three_way"]\n\n[[configuration.items]]'
    (case / "case.toml").write_text(
        text.replace("[[configuration.items]]", asked, 1).replace(
            'features = ["head_array", "pad_position_each_side",',
            'features = ["warm_cover", "head_array", "pad_position_each_side",',
            1,
        ),
        encoding="utf-8",
    )
    return assess(case)


# text of the feature -> document that must hold it
HELD = {
    "letter": (),  # names it; general words of a feature are no reason of this person's
    "guide": ("Unplug the cover before you wash it.",),
    "plan": ("Start each lesson with the pads warm.",),
    "order": (),  # names it beside the line that brings it
}


@pytest.mark.parametrize("document", HELD)
def test_its_words_stand_in_each_document(with_new_feature, document):
    text = trees(with_new_feature)[document].plain()
    for words in HELD[document]:
        assert text.count(words) == 1
    assert "warm cover on the pads" in text.lower()


def test_the_guide_speaks_of_what_its_kind_brings(with_new_feature):
    assert "Only Ilmari uses this mouthpiece" in trees(with_new_feature, ["guide"])["guide"].plain()


def test_without_spanish_words_it_is_marked_in_the_spanish_guide(with_new_feature):
    foreign = in_language(with_new_feature, "es", ["guide"])
    text = foreign.trees["guide"].plain()
    for english in ("Unplug the cover before you wash it.", "warm cover on the pads"):
        assert f"[en inglés: «{english}»]" in text
    passages = [node.plain() for node in foreign.trees["guide"].walk() if node.kind == "passage"]
    assert {"Unplug the cover before you wash it.", "warm cover on the pads"} <= set(passages)


def test_the_commands_know_it(with_new_feature):
    assert "warm_cover" in features_text()
    assert "touches missed with cold and with warm pads" in " ".join(feature_text("warm_cover").split())
    assert "warm cover on the pads" in " ".join(fit_text(fit_in(with_new_feature)).split())
    [one] = [one for one in fit_json(fit_in(with_new_feature))["features"] if one["id"] == "warm_cover"]
    assert one["called_for_by"] == ["head_three_way"] and not one["against"]
