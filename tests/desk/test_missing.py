"""What is still missing is told in the words of the questions, each with a way to its field; keys stand apart."""

from __future__ import annotations

import re
from datetime import date

import pytest
from support import DEMO_FOLDERS

from docgen.case.new import start
from docgen.desk.fields import field_at
from docgen.desk.sections import missing
from docgen.filling import asked_of_new
from docgen.library import check_case
from docgen.recording_sheet import clipboard_pdf

_OF_THE_FILE = re.compile(r"\w_\w| = |\[|<\w|\.toml|\bLook at it\b")


@pytest.fixture(params=["new", *(folder.name for folder in DEMO_FOLDERS)])
def points(request, tmp_path):
    if request.param == "new":
        asked = asked_of_new(["charity_or_school"], "control_only", "mini_joystick")
        folder = start(tmp_path / "robin-example", clipboard_pdf, asked=asked)
    else:
        folder = next(folder for folder in DEMO_FOLDERS if folder.name == request.param)
    check = check_case(folder, today=date(2026, 3, 31), reading=False)
    return check, missing(check)


def test_points_and_what_to_do_name_no_key(points):
    check, told = points
    texts = [text for point in told for text in (point.reason, *(step.words for step in point.steps))]
    unanswered = [verdict for verdict in check.verdicts if verdict.answer.status in ("not_met", "cannot_tell")]
    assert len(texts) >= len({verdict.criterion.id for verdict in unanswered})
    assert [text for text in texts if _OF_THE_FILE.search(text)] == []


def test_what_to_fill_in_is_called_as_its_field_is(points):
    check, told = points
    steps = [step for point in told for step in point.steps if step.words.startswith("Fill in: ")]
    assert steps or check.case.id != "robin-example"
    for step in steps:
        path = tuple(int(part) if part.isdigit() else part for part in step.anchor.split("-"))
        if not isinstance(path[-1], int):
            assert step.words.startswith(f"Fill in: {field_at(check.assessed.file, path).label}")


def test_keys_stand_apart_where_a_point_names_them(visitor, at, case):
    page = visitor.get(at).text
    aside = page[page.index('<div id="missing">') :].partition("The trial at a glance")[0]
    points, in_file = aside.partition("<summary>In the file</summary>")[::2]
    assert re.search(r"<li>.*(?:\[\w|\w_\w| = )", in_file)
    assert not re.search(r"\w_\w", re.sub(r"<[^>]*>", "", points))
