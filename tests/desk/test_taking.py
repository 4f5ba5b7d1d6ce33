"""A sheet that came back: shown first, then its answers are one change, and nothing that is recorded is replaced."""

from __future__ import annotations

import json
import re

import pytest
from support import DEMO_FOLDERS

from docgen.case.keys import value_at
from docgen.case.read import read_case
from docgen.desk import kept


@pytest.fixture
def source():
    """The demo that has still to hear from its supplier."""
    return next(folder for folder in DEMO_FOLDERS if folder.name.startswith("bohdan"))


def _file(case, *answers, **head):
    entries = [{"path": list(path), "values": list(values)} for path, *values in answers]
    content = {
        "format": "docgen answers 1",
        "case": case.name,
        "for": "supplier",
        "by": "Sol Example",
        "answers": entries,
    }
    return json.dumps(content | head).encode()


_OPEN = ("configuration", "chair", "seat_width_mm")


def test_answers_are_shown_then_taken_in_as_one_change(visitor, at, case):
    before = (case / "case.toml").read_text()
    assert value_at(read_case(case).case, _OPEN) is None
    looked = visitor.send(f"{at}/answers", {"answers": ("../answers.json", _file(case, (_OPEN, "420")))})
    assert looked.status == 200 and "From the supplier, Sol Example. Nothing is written yet." in looked.text
    assert "420 mm</dd>" in looked.text and "_mm" not in re.sub(r"<[^>]+>", " ", looked.text)
    assert (case / "case.toml").read_text() == before
    told = visitor.send(f"{at}/answers", {}, mode="take", kept="answers.json")
    assert told.status == 200 and "1 answer taken in from the supplier, Sol Example." in told.text
    assert value_at(read_case(case).case, _OPEN) == 420
    assert "# Sol Example, " in (case / "case.toml").read_text()
    assert not (case / kept.FOLDER / "answers").exists()
    assert visitor.post(f"{at}/who/back").status == 303
    assert (case / "case.toml").read_text() == before


def test_what_is_recorded_stays_and_is_told_in_words(visitor, at, case):
    before = (case / "case.toml").read_text()
    path = ("client", "weight_kg")
    looked = visitor.send(f"{at}/answers", {"answers": ("a.json", _file(case, (path, "500")))})
    assert looked.status == 200 and "Left out (1)" in looked.text and "Take them in" not in looked.text
    assert "client.weight_kg" not in looked.text
    assert visitor.send(f"{at}/answers", {}, mode="take", kept="a.json").status in (200, 422)
    assert (case / "case.toml").read_text() == before


@pytest.mark.parametrize(
    "data",
    [b"", b"{}", b"no file of answers", b'{"format": "docgen answers 1", "case": "another-case"}', b"\xff" * 100],
)
def test_another_file_is_refused_without_the_place_where_it_lies(data, visitor, at, case):
    before = (case / "case.toml").read_text()
    answer = visitor.send(f"{at}/answers", {"answers": ("a.json", data)})
    assert answer.status == 422 and str(case) not in answer.text and ".desk" not in answer.text
    assert (case / "case.toml").read_text() == before
    assert visitor.send(f"{at}/answers", {}, mode="take", kept="../case.toml").status == 422


def test_a_new_place_answered_in_part_keeps_the_other_answers(visitor, at, case):
    place = ("spaces", len(read_case(case).case.spaces), "name")
    looked = visitor.send(f"{at}/answers", {"answers": ("a.json", _file(case, (_OPEN, "420"), (place, "Back room")))})
    told = re.sub(r"<[^>]+>", " ", looked.text)
    assert "420 mm" in told and "“Kind of space" in told and "of a new entry was not answered" in told
    assert visitor.send(f"{at}/answers", {}, mode="take", kept="a.json").status == 200
    assert value_at(read_case(case).case, _OPEN) == 420 and value_at(read_case(case).case, place[:-1]) is None
