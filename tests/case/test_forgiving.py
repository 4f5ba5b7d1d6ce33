"""A day is read however it is written, where it can mean one day alone; a text may stand for a list of one."""

from __future__ import annotations

import json
from datetime import date

import pytest
from gathered import of_each
from support import SMALL, SMALL_ROWS

from docgen.case.measures_written import EXAMPLES, measure_of
from docgen.case.read import read_case
from docgen.errors import UserError

DAY = date(2026, 9, 22)


def read(folder, toml):
    (folder / "small").mkdir()
    (folder / "small" / "case.toml").write_text(toml, encoding="utf-8")
    (folder / "small" / "trial.csv").write_text(SMALL_ROWS, encoding="utf-8")
    return read_case(folder / "small").case


@pytest.mark.parametrize(
    "written",
    [
        "2026-09-22",
        '"2026-09-22"',
        '"2026-9-22"',
        '"2026/9/22"',
        '"22.09.2026"',
        '"22.9.2026"',
        '"9/22/2026"',
        '"22/09/2026"',
        '"22 September 2026"',
        '"22 Sept 2026"',
        '"22nd September 2026"',
        '"September 22, 2026"',
        '"Tuesday, September 22, 2026"',
        '"22. September 2026"',
        '"22 septembre 2026"',
        '"22 de septiembre de 2026"',
        '"22-Sep-2026"',
    ],
)
def test_a_day_that_can_mean_one_alone_is_read(tmp_path, written):
    assert read(tmp_path, SMALL + f"\n[dates]\nevaluated_on = {written}\n").dates.evaluated_on == DAY


@pytest.mark.parametrize(
    ("written", "readings"),
    [
        ("03/04/2026", "3 April 2026 or 4 March 2026"),
        ("3.4.2026", "3 April 2026 or 4 March 2026"),
        ("09.08.07", "9 August 2007 or 8 September 2007 or 7 August 2009"),
    ],
)
def test_a_day_that_can_mean_several_is_asked_about_with_each(tmp_path, written, readings):
    with pytest.raises(UserError) as failure:
        read(tmp_path, SMALL + f'\n[dates]\nevaluated_on = "{written}"\n')
    (problem,) = failure.value.problems
    assert problem.what == f"dates.evaluated_on is '{written}', which may be {readings}"
    assert "case.toml:" in problem.where and problem.do.startswith("Write it as evaluated_on = 20")


@pytest.mark.parametrize("written", ["soon after", "31.02.2026", "2026", "22 Septober 2026", "1/2", "99.99.2026"])
def test_what_is_no_day_is_still_none(tmp_path, written):
    with pytest.raises(UserError, match="is not a date"):
        read(tmp_path, SMALL + f'\n[dates]\nevaluated_on = "{written}"\n')


def test_a_day_without_quotes_is_told_how_to_be_written(tmp_path):
    with pytest.raises(UserError, match="Write dates as 2026-03-31, or in quotes"):
        read(tmp_path, SMALL + "\n[dates]\nevaluated_on = 22.09.2026\n")


def test_a_text_may_stand_for_a_list_of_one(tmp_path):
    toml = SMALL + '\n[[findings]]\nid = "hand_weak"\nsays = "Weak."\n'
    toml += '\n[[configuration.features]]\nid = "mini_joystick"\nbecause = "hand_weak"\n'
    assert read(tmp_path, toml).configuration.features[0].because == ("hand_weak",)


def test_an_empty_text_is_no_list(tmp_path):
    with pytest.raises(UserError):
        read(tmp_path, SMALL + '\n[[configuration.features]]\nid = "mini_joystick"\nbecause = ""\n')


def _tall(height: str) -> str:
    return SMALL.replace("[client]\n", f"[client]\nheight_mm = {height}\n", 1)


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("46 in", 1168),
        ("46 inches", 1168),
        ('46"', 1168),
        ("46 in 1/4", 1175),
        ("46 1/4 in", 1175),
        ("46-1/4 in", 1175),
        ("46.25 in", 1175),
        ("3 ft 10 in", 1168),
        ("3'10\"", 1168),
        ("1168 mm", 1168),
        ("116.8 cm", 1168),
        ("1.168 m", 1168),
    ],
)
def test_a_length_with_its_unit_is_read_as_metric(tmp_path, written, mm):
    """1 in is 25.4 mm exactly, NIST SP 811, appendix B."""
    assert read(tmp_path, _tall(json.dumps(written))).client.height_mm == mm


@of_each(
    ("text", "unit", "number"),
    [
        ("44 lb", "kg", 20.0),  # 1 lb is 0.45359237 kg and 1 mph 0.44704 m/s exactly, NIST SP 811, appendix B
        ("180 lbs", "kg", 81.6),
        ("1.0 mph", "m_s", 0.447),
        ("1.2 mph", "m_s", 0.536),
        ("1:12", "percent", 8.3),
        ("1 in 20", "percent", 5.0),
        ("8.3 %", "percent", 8.3),
        ("-2.25 in", "mm", -57),
        ("- 3/4 in", "mm", -19.1),
        ("14 ft", "m", 4.27),
        ("34 grams", "g", 34),
        ("0.5 in", "mm", 12.7),
        ("3/4 in", "mm", 19.1),  # by hand: 19.05
    ],
)
def test_a_measure_is_read_in_the_unit_of_its_key(text, unit, number):
    assert measure_of(text, unit) == number


@pytest.mark.parametrize(
    "written",
    [
        "46",
        "46 lb",
        "46,5 in",
        "about 46 in",
        "46 in to 47 in",
        "46 in 47 in",
        "10 in 3 ft",
        "46.5 in 1/4",
        "1/0 in",
        "-3 in",
    ],
)
def test_a_measure_that_is_none_or_could_be_two_is_asked_about(tmp_path, written):
    with pytest.raises(UserError) as failure:
        read(tmp_path, _tall(f'"{written}"'))
    (problem,) = failure.value.problems
    assert 'Its unit may stand in it, as "65 in". Write it as: height_mm = 1650.' in problem.do


def test_every_unit_offered_as_an_example_is_read():
    assert {unit: measure_of(example, unit) for unit, example in EXAMPLES.items()}.keys() == EXAMPLES.keys()
    assert all(measure_of(example, unit) for unit, example in EXAMPLES.items())
