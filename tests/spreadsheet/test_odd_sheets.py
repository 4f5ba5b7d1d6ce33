"""Sheets that no template has foreseen: each is taken as it is meant, or asked about in words that can be answered."""

from __future__ import annotations

import pytest
from dialects import METHODS, TASKS

from docgen.spreadsheet.cells import grids_of
from docgen.spreadsheet.understand import understood

HEAD = "Date,Control,Task,Success"
PADS, STICK = "proximity head pads,through a doorway", "standard joystick by hand,stop at the line"


def read(tmp_path, *lines, **answers):
    path = tmp_path / "sheet.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return understood(grids_of(path), {"method": METHODS, "task": TASKS}, answers)


@pytest.mark.parametrize(
    ("lines", "column", "values"),
    [
        ((f"{HEAD},Release (ms)", f"9/22/2026,{PADS},yes,400", f"9/22/2026,{STICK},no,1900"), "release_s", "0.4 1.9"),
        (
            (f"{HEAD},Distance", f"9/22/2026,{PADS},yes,33 ft 6 in", f"9/22/2026,{STICK},no,20'"),
            "distance_m",
            "10.21 6.1",
        ),
        ((HEAD, f"9/22/2026,{PADS},✓", f"9/22/2026,{STICK},✗"), "success", "1 0"),
        ((HEAD, f"9/22/2026,{PADS},yes", HEAD, f"9/23/2026,{STICK},no"), "date", "2026-09-22 2026-09-23"),
        ((HEAD, f"Tue 22 Sep 2026,{PADS},yes", f"Wed 23 Sep 2026,{STICK},no"), "date", "2026-09-22 2026-09-23"),
        (
            (f"{HEAD},Release (s)", f'9/22/2026,{PADS},yes,"0,4"', f'9/22/2026,{STICK},no,"1,25"'),
            "release_s",
            "0.4 1.25",
        ),
    ],
)
def test_an_odd_sheet_is_taken_as_it_is_meant(tmp_path, lines, column, values):
    taken = read(tmp_path, *lines)
    assert [str(question) for question in taken.questions] == []
    assert [row[column] for row in taken.rows] == values.split()


@pytest.mark.parametrize(
    ("lines", "keys"),
    [
        ((HEAD, f"9/22/2026,{PADS},3/4", f"9/22/2026,{STICK},1/4"), {"success.3/4", "success.1/4"}),
        ((HEAD, f"9/22/2026,{PADS},yes (with help)", f"9/22/2026,{STICK},no"), {"success.yes (with help)"}),
        ((HEAD, f"9/22,{PADS},yes"), {"date.9/22"}),
        ((HEAD, f"22.09.26,{PADS},yes", f"03.04.26,{STICK},no"), {"date"}),
        ((f"{HEAD},Collisions", f"9/22/2026,{PADS},yes,1-2"), {"cell.Collisions.1-2"}),
        ((f"{HEAD},Duration", f"9/22/2026,{PADS},yes,0:31"), {"clock.Duration"}),
        ((HEAD, f"9/22/2026,{PADS},yes", f"9/22/2026,{STICK},"), {"blank.success"}),
        ((f"{HEAD} %", f"9/22/2026,{PADS},75%"), {"success.75%"}),
    ],
)
def test_what_an_odd_sheet_leaves_open_is_asked(tmp_path, lines, keys):
    assert {question.key for question in read(tmp_path, *lines).questions} == keys


def test_a_sheet_with_a_column_for_each_control_is_told_how_to_stand(tmp_path):
    head = "Date,Task,proximity head pads,standard joystick by hand"
    questions = {q.key: q.asks for q in read(tmp_path, head, "9/22/2026,through a doorway,yes,no").questions}
    assert "are controls, with a column each. Put their rows below each other" in questions["which.method"]


def test_a_sheet_on_its_side_is_told_to_be_turned(tmp_path):
    asked = read(tmp_path, "Date,9/22/2026,9/23/2026", "Control,pads,pads", "Task,door,stop", "Success,yes,no")
    (question,) = asked.questions
    assert question.key == "head" and "transpose" in question.asks and "'Date', 'Control'" in question.asks


def test_a_list_of_facts_is_no_trial_on_its_side(tmp_path):
    (question,) = read(tmp_path, "Item,Value", "Date,9/25/2026", "Serial,NS-17", "Remarks,brakes ok").questions
    assert "transpose" not in question.asks and "'docgen find WORD' names the key" in question.asks


def test_a_tally_without_a_task_is_asked_by_an_answer_that_then_holds(tmp_path):
    tally = ("Date,Control,Tries,Done,Touched something", "9/22/2026,proximity head pads,10,4,3")
    (question,) = read(tmp_path, *tally).questions
    assert question.key == "which.task" and "--map 'which.task=all:driving indoors'" in question.asks
    taken = read(tmp_path, *tally, **{"which.task": "all:through a doorway"})
    assert not taken.questions and [row["contacts"] for row in taken.rows] == ["3"]
