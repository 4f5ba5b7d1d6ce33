"""The therapist's own words stand at the head of their section of the letter, and in no other document."""

from __future__ import annotations

import pytest
from gathered import of_each
from support import SMALL, SMALL_ROWS, assess

from docgen.case.own_words import Letter
from docgen.packet.trees import trees

# section of the letter -> its heading
HEADINGS = {
    "request": "Equipment Requested",
    "person": "Patient Information, Diagnosis and Functional Status",
    "need": "Mobility Limitation and MRADLs in the Home",
    "lesser": "Alternatives Considered and Ruled Out",
    "trial": "Equipment Trial and Results",
    "safety": "Safety and Home Environment",
    "asked": "Recommended Equipment and Justification of Each Item",
    "plan": "Training and Follow-Up Plan",
    "limits": "Equipment Trial and Results",
}
WORDS = {key: f"Own words on {key} | with *marks*" for key in HEADINGS}


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    folder = tmp_path_factory.mktemp("own") / "small"
    folder.mkdir()
    own = "\n[letter]\n" + "\n".join(f'{key} = "{words}"' for key, words in WORDS.items())
    (folder / "case.toml").write_text(SMALL + own, encoding="utf-8")
    (folder / "trial.csv").write_text(SMALL_ROWS, encoding="utf-8")
    return trees(assess(folder))


def test_every_section_can_hold_own_words():
    assert set(Letter.model_fields) == set(HEADINGS)


@of_each("key", HEADINGS)
def test_own_words_stand_under_the_heading_of_their_section(key, written):
    heading, found = "", []
    for node in written["letter"].children:
        if node.kind == "heading":
            heading = node.plain()
        elif f"{WORDS[key]}." in node.plain():
            found.append(heading)
    assert found == [HEADINGS[key]]


def test_no_other_document_shows_them(written):
    assert len(written) > 4
    assert [name for name, tree in written.items() if "Own words on" in tree.plain()] == ["letter"]
