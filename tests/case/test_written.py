"""What a sheet brings back, and what a check says to write, stand in the form in which the case writes its lists."""

from __future__ import annotations

import tomllib
from datetime import date

import pytest
from gathered import of_each

from docgen.case.answers import Answered, Sheet, with_answers
from docgen.case.heads import as_written
from docgen.case.read import read_text
from docgen.case.written import Place, head_of_new, place_of_table
from docgen.errors import UserError

ON = date(2026, 11, 25)
TEXT = """\
format = "docgen case 2"
id = "robin-example"
[people.ot]
role = "evaluator"
[findings]
hand_weak.says = \"\"\"His hand is weak, \\
  on both sides.\"\"\"
hand_tremor = { says = "It shakes." }  # seen twice
[cautions]
skin = "Look behind his ears."
[spaces]
each.floor = "wood"
hall.kind = "doorway"
[supervision."at home"]
level = "same_room"
[[goals]]
id = "table"
says = "Get to the table."
[configuration.stop]
helper = "press it"
[conditions.epilepsy.answers]
ever = true
"""


@pytest.fixture
def file(tmp_path):
    (tmp_path / "robin-example").mkdir()
    (tmp_path / "robin-example" / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    return read_text(TEXT, tmp_path / "robin-example")


def answered(file, *pairs):
    return with_answers(file, Sheet("supplier", "Sam", tuple(Answered(*pair) for pair in pairs), ()), ON)


@of_each(
    ("path", "value", "line"),
    [
        (("people", 0, "phone"), '"555-0100"', 'phone = "555-0100"  # Sam, 2026-11-25'),
        (("findings", 0, "measure"), '"15 g"', 'hand_weak.measure = "15 g"  # Sam, 2026-11-25'),
        (
            ("findings", 1, "measure"),
            '"6 mm"',
            'hand_tremor = { says = "It shakes.", measure = "6 mm" }  # seen twice; Sam, 2026-11-25',
        ),
        (("spaces", 0, "clear_width_mm"), "790", "hall.clear_width_mm = 790  # Sam, 2026-11-25"),
        (("supervision", 0, "reach_s"), "1.2", "reach_s = 1.2  # Sam, 2026-11-25"),
        (("goals", 0, "level"), "-2", "level = -2  # Sam, 2026-11-25"),
        (("configuration", "latched"), "false", "latched = false  # Sam, 2026-11-25"),
        (("conditions", 0, "level"), '"C4"', 'level = "C4"  # Sam, 2026-11-25'),
    ],
)
def test_an_answer_is_written_where_the_case_would_write_it(file, path, value, line):
    text, after = answered(file, (path, value))
    assert line in text.split("\n")
    node = after.case
    for step in path:
        node = node[step] if isinstance(step, int) else getattr(node, step)
    assert node == tomllib.loads(f"value = {value}")["value"]
    assert len(after.case.findings) == 2 and after.case.cautions[0].says == "Look behind his ears."


def test_an_answer_beside_a_value_that_stands_alone_keeps_both(file):
    text, _ = answered(file, (("conditions", 0, "answers", 0, "says"), '"Twice."'))
    assert 'ever = { yes = true, says = "Twice." }  # Sam, 2026-11-25' in text


def test_a_new_entry_has_its_name_and_nothing_of_what_holds_of_the_others(file):
    text, after = answered(file, (("spaces", 1, "name"), '"Laundry door"'), (("spaces", 1, "kind"), '"doorway"'))
    assert "[spaces.laundry_door]" in text
    assert (after.case.spaces[1].id, after.case.spaces[1].floor) == ("laundry_door", None)
    assert after.case.spaces[0].floor == "wood"


def test_an_answer_without_room_is_told_and_not_lost(tmp_path):
    (tmp_path / "robin-example").mkdir()
    (tmp_path / "robin-example" / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    text = f'{TEXT}[configuration.standard_parts]\nwith_base = [\n  "batteries",\n]\n'
    file = read_text(text, tmp_path / "robin-example")
    with pytest.raises(UserError, match="has no room for: says"):
        answered(file, (("configuration", "standard_parts", 0, "says"), '"two"'))


@of_each(
    ("path", "place"),
    [
        (("people", 0), Place("[people.ot]")),
        (("findings", 0), Place("[findings]", prefix="hand_weak.")),
        (("findings", 1), Place("[findings]", entry="hand_tremor")),
        (("supervision", 0), Place('[supervision."at home"]')),
        (("goals", 0), Place("[[goals]]")),
        (("configuration", "stop"), Place("[configuration.stop]")),
    ],
)
def test_a_key_to_fill_in_is_told_in_the_form_of_the_case(file, path, place):
    assert place_of_table(file, path) == place


def test_a_new_entry_is_told_in_the_form_of_the_case(file):
    assert head_of_new(file, ("findings",)) == "[findings.NAME]" and head_of_new(file, ("goals",)) == "[[goals]]"
    told = as_written("Add [[findings]], [[goals]] or [[confirmed]].", file.by_name)
    assert told == "Add [findings.NAME], [[goals]] or [[confirmed]]."


SHORT = """\
format = "docgen case 2"
id = "robin-example"
[visits]
home = 2026-03-03
[findings]
hand_weak = ["Weak.", "90 g"]  # twice
hand_tremor = ["It shakes a lot.",
  "10 mm"]
[spaces]
hall = { kind = "corridor",  # the long one
  floor = "tile" }
front_door = 840
[awaited]
ride = { supplier = "whether the pads may stay on" }
"""


@pytest.mark.parametrize(
    ("path", "value", "lines"),
    [
        (("visits", 0, "place"), '"home"', ['home = { on = 2026-03-03, place = "home" }  # Sam, 2026-11-25']),
        (
            ("findings", 0, "visit"),
            '"home"',
            ['hand_weak = { says = "Weak.", measure = "90 g", visit = "home" }  # twice; Sam, 2026-11-25'],
        ),
        (
            ("findings", 1, "visit"),
            '"home"',
            ['hand_tremor = { says = "It shakes a lot.", measure = "10 mm", visit = "home" }  # Sam, 2026-11-25'],
        ),
        (
            ("spaces", 0, "clear_width_mm"),
            "900",
            [
                'hall = { kind = "corridor",  # the long one',
                '  floor = "tile",',
                "  clear_width_mm = 900 }  # Sam, 2026-11-25",
            ],
        ),
        (
            ("spaces", 1, "floor"),
            '"wood"',
            ['front_door = { clear_width_mm = 840, floor = "wood" }  # Sam, 2026-11-25'],
        ),
        (
            ("awaited", 0, "answer"),
            '"They may."',
            ['ride = { supplier = "whether the pads may stay on", answer = "They may." }  # Sam, 2026-11-25'],
        ),
    ],
)
def test_an_answer_beside_an_entry_in_short_form_keeps_it(tmp_path, path, value, lines):
    (tmp_path / "robin-example").mkdir()
    (tmp_path / "robin-example" / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    file = read_text(SHORT, tmp_path / "robin-example")
    text, after = answered(file, (path, value))
    assert "\n".join(lines) in text
    table, at, key = path
    assert getattr(getattr(after.case, table)[at], key) == tomllib.loads(f"value = {value}")["value"]
    before = file.case.model_dump()
    before[table][at][key] = getattr(getattr(after.case, table)[at], key)
    if key == "visit":
        before[table][at]["on"] = date(2026, 3, 3)
    assert after.case.model_dump() == before
