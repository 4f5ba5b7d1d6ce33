"""The training record as the stages walk it: the stage reached, its rows, and the windows set side by side."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.case.stage import STAGES, STEPS, tasks_of
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
            "training": {} if stage is None else {"stage": STEPS[stage]},
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


def test_the_rows_at_the_stage_reached_begin_after_the_one_that_entered_it():
    """Six of six pass the steering of stage 3 or leave it; what is driven from the next row on is of the new stage."""
    tasks = tasks_of(next(stage for stage in STAGES if stage.number == 4), case_with())
    rows = [session(2 + 6 * at + i, at, 4, task) for at, task in enumerate(tasks) for i in range(6)]
    entered = rows[-1].line
    later = [
        session(entered + 1, len(tasks), 5),
        session(entered + 2, len(tasks), 4),
        session(entered + 3, len(tasks), 5),
    ]
    case = case_with([*rows, *later], stage=4)
    assert walked(case).entered == entered and stage_now(case) == 5
    assert [row.line for row in at_stage_now(case)] == [entered + 1, entered + 3]
    assert at_stage_now(case_with(rows, stage=4)) == ()


def test_a_stop_passes_by_stops_in_a_row_and_another_task_by_the_coachs_table():
    stops = [session(at, 0, 3, "halt") for at in range(2, 8)]
    turns = [session(at, 0, 3, "door") for at in range(2, 8)]
    assert not walked(case_with(stops, stage=3)).ended  # six of six, and ten in a row are requested
    assert walked(case_with(turns, stage=3)).ended[0].answer == "mastered"


def test_a_try_that_met_a_stop_rule_starts_the_count_again_and_no_other_does():
    rows = [session(at, 0, 3, "door", injury=at == 4) for at in range(2, 7)]
    first, *_ = walked(case_with(rows, stage=3)).ended
    assert (first.answer, first.lines) == ("stopped", (2, 3, 4))
    assert [judged.lines for judged in walked(case_with(rows, stage=3)).still_open] == [(5, 6)]


def test_the_walk_of_one_case_is_not_that_of_another():
    low, high = case_with([session(2, 0, 2)], stage=2), case_with([session(2, 0, 5)], stage=5)
    assert [stage_now(case) for case in (low, high, low, low, high)] == [2, 5, 2, 2, 5]
    assert walked(low) is walked(low)


def test_a_stop_rule_stands_until_someone_has_cleared_it():
    """The second stop missed in a session meets the rule; a stop is a task of the trial that shows one, or of a
    stage."""

    def missed(task, **more):
        return case_with([session(2, 0, 3, task, False), session(3, 0, 3, task, False, **more)], stage=3)

    assert [met.line for met in stops_standing(missed("halt"))] == [3]
    assert stops_standing(missed("halt", cleared_by="therapist")) == ()
    assert stops_standing(missed("door")) == ()
