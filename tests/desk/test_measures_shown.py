"""A measure stands in its field as a tape in the United States shows it, or as it was typed."""

from __future__ import annotations

import json

import pytest
from support import DEMO_FOLDERS

from docgen.case.keys import value_at
from docgen.case.measures_written import measure_of, unit_of_key
from docgen.case.read import read_case
from docgen.desk import measured
from docgen.desk.fields import field_at
from docgen.desk.topics import topic_of

_DOOR = ("spaces", 0, "clear_width_mm")
_WEIGHT = ("client", "weight_kg")


def _answer(visitor, at, path, value, was):
    return visitor.post(f"{at}/{topic_of(path).id}/answer", path=json.dumps(path), value=value, was=was)


@pytest.mark.parametrize(
    ("path", "typed", "written", "shown", "also", "number"),
    [
        (_DOOR, "33 in", '"33 in"', "33 in", "838 mm", 838),
        (_DOOR, "2 ft 9 in", '"2 ft 9 in"', "2 ft 9 in", "838 mm", 838),
        (_DOOR, "33", '"33 in"', "33 in", "838 mm", 838),
        (_DOOR, "840 mm", '"840 mm"', "840 mm", "33 1/16 in", 840),
        (_WEIGHT, "150", '"150 lb"', "150 lb", "68 kg", 68),
        (_WEIGHT, "68 kg", '"68 kg"', "68 kg", "150 lb", 68),
        (("client", "height_mm"), "5 ft 6 in", '"5 ft 6 in"', "5 ft 6 in", "1676 mm", 1676),
    ],
)
def test_what_was_typed_stands_in_file_and_field(path, typed, written, shown, also, number, visitor, at, case):
    before = field_at(read_case(case), path)
    assert _answer(visitor, at, path, typed, before.shown).status == 303
    assert written in (case / "case.toml").read_text()
    file = read_case(case)
    field = field_at(file, path)
    assert (value_at(file.case, path), field.shown, field.also) == (number, shown, also)
    page = visitor.get(f"{at}/{topic_of(path).id}").text
    form = page[page.index(f'id="{field.id}"') :].partition("</form>")[0]
    assert f'value="{shown}"' in form and also in form


def test_a_metric_measure_that_is_sent_as_it_was_shown_stays_in_the_file(visitor, at, case):
    text = (case / "case.toml").read_text()
    assert _answer(visitor, at, _WEIGHT, "178.6 lb", "178.6 lb").status == 303
    assert (case / "case.toml").read_text() == text


def test_of_a_payer_elsewhere_a_number_alone_is_metric(visitor, at, case, monkeypatch):
    monkeypatch.setattr(measured, "_locale", lambda payer: "en_GB")
    field = field_at(read_case(case), _WEIGHT)
    assert (field.shown, field.unit, field.also) == ("81", "kg", "178.6 lb")
    assert _answer(visitor, at, _WEIGHT, "70", "81").status == 303
    assert "weight_kg = 70" in (case / "case.toml").read_text()


@pytest.mark.parametrize(("typed", "also"), [("1:12", "8.3 percent"), ("8.3", "")])
def test_a_slope_is_typed_as_rise_in_run_or_in_percent(typed, also, visitor, at, case):
    path = (*_DOOR[:-1], "slope_percent")
    assert _answer(visitor, at, path, typed, field_at(read_case(case), path).shown).status == 303
    file = read_case(case)
    field = field_at(file, path)
    assert (value_at(file.case, path), field.also, field.unit) == (8.3, also, "percent")
    assert field.label == "Slope"


@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda folder: folder.name)
def test_each_measure_of_a_demo_is_shown_within_what_a_tape_tells(folder, every_key):
    file, n_measures = read_case(folder), 0
    least = {"mm": 0.8 + 0.5, "m": 0.004, "kg": 0.05, "m_s": 0.045}  # half a 16th of an inch and of a mm; two digits
    for path, value in every_key(file.case):
        if isinstance(value, (int, float)) and (unit := unit_of_key(str(path[-1]))) in least:
            n_measures += 1
            limit = 3.7 if path == ("client", "height_mm") else least[unit]  # told in quarters of an inch
            assert abs(measure_of(field_at(file, path).shown, unit) - value) <= limit, path
    assert n_measures > 20
