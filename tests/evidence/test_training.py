"""The training record as the stages walk it: the stage reached, its rows, and the windows set side by side."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.evidence.training import at_stage_now, by_day, stage_now, stops_standing, walked, windows

FIRST = date(2026, 3, 2)


def session(line, day, stage=1, task="stop_on_request", success=True, **more):
    return SessionRow(line=line, date=FIRST + timedelta(days=day), stage=stage, task=task, success=success, **more)


def case_with(rows=(), stage=None):
    case = Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "x",
            "trial": {"tasks": ({"id": "halt", "name": "halt", "shows": "stop"}, {"id": "door", "name": "door"})},
            "training": {} if stage is None else {"stage": stage},
        },
        strict=False,
    )
    return case.with_sessions(tuple(rows))


@pytest.mark.parametrize("last, told", [(54, False), (55, True), (90, True)])
def test_windows_are_set_side_by_side_from_eight_whole_weeks_on(last, told):
    rows = [session(line, day) for line, day in enumerate((0, 27, 28, last - 28, last - 27, last), 2)]
    parts = windows(rows)
    assert bool(parts) is told
    if told:
        days = {name: {(row.date - FIRST).days for row in part} for name, part in parts.items()}
        assert days["first"] == {day for day in (0, 27, 28, last - 28, last - 27, last) if day < 28}
        assert days["last"] == {day for day in (0, 27, 28, last - 28, last - 27, last) if day > last - 28}


def test_without_a_record_there_is_no_window_and_no_walk():
    assert windows(()) == {} and walked(case_with(stage=2)) is None and at_stage_now(case_with(stage=2)) == ()
    assert stage_now(case_with(stage=2)) == 2 and stage_now(case_with()) is None
    assert walked(case_with([session(2, 0)])) is None


def test_the_rows_of_a_day_are_one_session():
    rows = [session(3, 1), session(2, 0), session(4, 1)]
    assert [(on.day, [row.line for row in group]) for on, group in by_day(rows)] == [(2, [2]), (3, [3, 4])]


def test_the_rows_at_the_stage_reached_are_those_of_it():
    rows = [session(2, 0, 3, "door"), session(3, 0, 2, "door"), session(4, 1, 3, "door")]
    case = case_with(rows, stage=3)
    assert stage_now(case) == 3 and [row.line for row in at_stage_now(case)] == [2, 4]


def test_a_stop_rule_stands_until_someone_has_cleared_it():
    """The second stop missed in a session meets the rule; a stop is a task of the trial that shows one, or of a
    stage."""

    def missed(task, **more):
        return case_with([session(2, 0, 3, task, False), session(3, 0, 3, task, False, **more)], stage=3)

    assert [met.line for met in stops_standing(missed("halt"))] == [3]
    assert stops_standing(missed("halt", cleared_by="therapist")) == ()
    assert stops_standing(missed("door")) == ()
