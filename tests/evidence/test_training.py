"""The training record as the stages walk it: the stage reached, its rows, and the windows set side by side."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from gathered import of_each
from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.case.stage import STAGES, STEPS, tasks_of
from docgen.evidence.training import at_stage_now, by_day, mark_of, rules_of, stage_now, stops_standing, walked, windows

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


def test_the_rule_of_tasks_takes_no_stop_of_a_step():
    tasks = {number: rule.tasks for number, rule in rules_of(case_with()).items()}
    assert (tasks[0], tasks[2], tasks[4]) == (("rest_wake",), ("stop_line",), ("straight", "corner", "park"))


def test_the_rows_of_a_day_are_one_session():
    rows = [session(3, 1), session(2, 0), session(4, 1)]
    assert [(on.day, [row.line for row in group]) for on, group in by_day(rows)] == [(2, [2]), (3, [3, 4])]


def test_the_rows_at_the_stage_reached_are_those_of_it():
    rows = [session(2, 0, 3, "door"), session(3, 0, 2, "door"), session(4, 1, 3, "door")]
    case = case_with(rows, stage=3)
    assert stage_now(case) == 3 and [row.line for row in at_stage_now(case)] == [2, 4]


def alone(line, day, stage, task, **more):
    return session(line, day, stage, task, help=0, **more)


def test_the_rows_at_the_stage_reached_begin_after_the_one_that_entered_it():
    """Two rows of each task and ten stops pass a step; what is driven from the next row on is of the new one."""
    tasks = [task for task in tasks_of(STAGES[4], case_with()) if task != "stop_word"]
    days = [(day, task) for day in range(2) for task in tasks for _ in range(5)]
    rows = [alone(2 + at, day, 4, task) for at, (day, task) in enumerate(days)]
    rows += [alone(100 + at, 1 + at // 4, 4, "halt", surprise=True) for at in range(10)]
    entered = rows[-1].line
    later = [alone(entered + 1, 4, 5, "kitchen"), alone(entered + 2, 4, 4, "park"), alone(entered + 3, 4, 5, "kitchen")]
    case = case_with([*rows, *later], stage=4)
    assert walked(case).entered == entered and stage_now(case) == 5
    assert [row.line for row in at_stage_now(case)] == [entered + 1, entered + 3]
    assert at_stage_now(case_with(rows, stage=4)) == ()


@of_each(
    ("row", "is_stop", "mark"),
    [
        ({"help": 0}, False, "alone"),
        ({"help": 1}, False, "helped"),
        ({"help": None}, False, None),  # never taken as alone
        ({"help": None, "success": False}, False, "not"),  # not done is told without its help
        ({"help": 0, "contacts": 1}, False, "not"),
        ({"help": 0, "person_contacts": 1}, False, "not"),
        ({"help": 0, "surprise": True}, True, "alone"),
        ({"help": 0, "surprise": False}, True, "planned"),
        ({"help": 0, "surprise": None}, True, None),
        ({"help": None, "surprise": True}, True, None),
        ({"help": 2, "surprise": True}, True, "helped"),
        ({"success": False, "surprise": True}, True, "not"),
        ({"success": False, "surprise": None}, True, None),
    ],
)
def test_a_try_counts_as_alone_only_where_that_is_written(row, is_stop, mark):
    assert mark_of(session(2, 0, 3, "halt", **row), is_stop) == mark


def test_prompted_stops_and_stops_of_unknown_surprise_pass_nothing():
    def passed(**more):
        rows = [session(2 + at, at // 4, 3, "halt", **more) for at in range(30)]
        return [judged.answer for judged in walked(case_with(rows, stage=3)).ended]

    assert passed(help=0, surprise=True)[0] == "passed"
    assert passed(help=2, surprise=True)[0] == "therapist"
    assert passed(help=0) == passed(help=0, surprise=False) == passed(surprise=True) == []
    assert len(walked(case_with([session(2, 0, 3, "halt", help=0)], stage=3)).uncounted) == 1


def test_a_try_that_met_a_stop_rule_starts_the_count_again_and_no_other_does():
    rows = [alone(at, 0, 3, "door", injury=at == 4) for at in range(2, 7)]
    walk = walked(case_with(rows, stage=3))
    assert (walk.ended[0].answer, walk.ended[0].lines) == ("stopped", (2, 3, 4))
    assert [judged.lines for judged in walk.still_open] == [(5, 6)]


@of_each(("what", "stage", "begins_anew"), [("ran_on", 3, True), ("near_misses", 3, False)])
def test_a_chair_that_ran_on_begins_the_counts_anew_and_two_near_misses_end_the_lesson_alone(what, stage, begins_anew):
    rows = [alone(2, 0, stage, "door", near_misses=1), alone(3, 0, stage, "door", **{what: 1})]
    case = case_with(rows, stage=stage)
    assert [met.kind for met in stops_standing(case)] == [what]
    assert bool(walked(case).ended) == begins_anew


def test_a_second_missed_stop_begins_the_task_anew_in_which_it_fell():
    rows = [
        *(alone(at, 0, 3, "door") for at in (2, 3)),
        session(4, 0, 3, "halt", False, surprise=True),
        alone(5, 0, 3, "left"),
        session(6, 0, 3, "halt", False, surprise=True),
    ]
    ended = {judged.task for judged in walked(case_with(rows, stage=3)).ended}
    assert ended == {"left", "halt"}


@pytest.mark.parametrize("change", ["changed", "new_count"])
def test_what_was_changed_or_an_illness_begins_the_counts_anew(change):
    rows = [alone(2, 0, 3, "door"), alone(3, 1, 3, "door", **{change: "hip pad, by the therapist"})]
    assert [judged.n for judged in walked(case_with(rows, stage=3)).still_open] == [1]


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


def test_where_no_help_of_a_day_is_written_neither_failures_nor_successes_count():
    """Else the failures alone would be counted, and a row of them would ask for a change."""
    tries = [session(line, 0, stage=4, task="corner", success=line % 2 == 0) for line in range(2, 12)]
    walk = walked(case_with(tries, stage=4))
    assert walk is not None and len(walk.uncounted) == 10 and not walk.still_open and not walk.ended
    failed = [replace(row, success=False) for row in tries]
    walk = walked(case_with(failed, stage=4))
    assert walk is not None and not walk.uncounted  # nothing was done, with help or without
    known = [replace(row, help=0) if row.success else row for row in tries]
    walk = walked(case_with(known, stage=4))
    assert walk is not None and not walk.uncounted and (walk.still_open or walk.ended)
