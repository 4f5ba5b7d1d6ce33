"""What counts as done: each reason alone, and what a row without one keeps."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from gathered import of_each
from statsmodels.stats.proportion import proportion_confint

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.session import SessionRow, help_rung
from docgen.case.totals import DayTotal
from docgen.evidence.done import counted, facts, help_is_recorded, helped_somewhere, overruled, overruled_tries

DAY = date(2026, 3, 3)


def row(line, task="door", success=True, day=0, method="a", **more):
    return Row(line, DAY + timedelta(days=day), method, task, success, **more)


def attempt(line, success=True, **more):
    return SessionRow(line=line, date=DAY, stage=1, task="door", success=success, **more)


def case_with(rows=(), tries=(), **trial):
    case = Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "x",
            "trial": {
                "methods": ({"id": "a", "name": "pads"}, {"id": "b", "name": "stick"}),
                "tasks": ({"id": "halt", "name": "halt", "shows": "stop"}, {"id": "door", "name": "door"}),
            }
            | trial,
        },
        strict=False,
    )
    return case.with_records(tuple(rows)).with_sessions(tuple(tries))


def reasons(entries):
    return {entry.row.line: entry.why for entry in entries}


@of_each(
    "more, why",
    [
        ({}, None),
        ({"contacts": 0, "person_contacts": 0, "prompts_physical": 0, "took_over": 0, "missed": 0}, None),
        ({"contacts": 1}, ("a collision",)),
        ({"person_contacts": 1}, ("a collision",)),
        ({"prompts_physical": 1}, ("help by hand",)),
        ({"took_over": 2}, ("help by hand",)),
        ({"task": "halt", "missed": 1}, ("a missed stop",)),
        ({"task": "door", "missed": 1}, None),
        ({"task": "halt", "missed": 0}, None),
        (
            {"task": "halt", "missed": 1, "contacts": 1, "took_over": 1},
            ("a collision", "help by hand", "a missed stop"),
        ),
        ({"success": False, "contacts": 1}, None),
    ],
)
def test_a_row_done_is_overruled_for_each_reason_and_for_no_other(more, why):
    assert reasons(overruled(case_with([row(2, **more)]))) == ({2: why} if why else {})


@pytest.mark.parametrize("column", ["prompts_physical", "took_over"])
def test_help_by_hand_counts_where_it_is_written_for_each_attempt_of_the_block(column):
    each = [row(2, **{column: 1}), row(3, **{column: 0})]
    once = [row(2, **{column: 1}), row(3)]
    assert reasons(overruled(case_with(each))) == {2: ("help by hand",)}
    assert overruled(case_with(once)) == ()
    other_day, other_method = row(4, day=1), row(4, method="b")
    assert reasons(overruled(case_with([row(2, **{column: 1}), other_day]))) == {2: ("help by hand",)}
    assert reasons(overruled(case_with([row(2, **{column: 1}), other_method]))) == {2: ("help by hand",)}


@of_each("column", ["prompts_physical", "took_over"])
@of_each(
    "filled, done, told",
    [
        ((1, None), (True, True), True),
        ((2, None, None), (True, True, True), True),
        ((None, 1, 1), (True, True, True), True),
        ((0, 1, None), (True, True, True), True),
        ((0, None), (True, True), False),
        ((None, None), (True, True), False),
        ((1, 1), (True, True), False),  # written for each: the rows themselves are overruled
        ((1, None), (True, False), False),  # the row that failed may be the one that was helped
    ],
)
def test_help_told_once_for_a_block_of_rows_all_done_is_help_somewhere(column, filled, done, told):
    rows = [row(at, success=s, **{column: n}) for at, (n, s) in enumerate(zip(filled, done, strict=True), 2)]
    found = helped_somewhere(case_with(rows))
    assert [part.line for block in found for part in block] == ([r.line for r in rows] if told else [])


@of_each(
    "more, why",
    [
        ({}, None),
        ({"help": help_rung("D")}, None),
        ({"help": help_rung("PP")}, ("help by hand",)),
        ({"help": help_rung("FP")}, ("help by hand",)),
        ({"contacts": 1}, ("a collision",)),
        ({"success": False, "help": help_rung("FP")}, None),
    ],
)
def test_a_try_of_training_is_overruled_by_a_collision_or_help_by_hand(more, why):
    assert reasons(overruled_tries(case_with(tries=[attempt(2, **more)]))) == ({2: why} if why else {})


def test_rows_are_counted_strictly_until_the_rule_of_the_case_says_otherwise():
    rows, tries = [row(2), row(3, contacts=1), row(4, success=False)], [attempt(2), attempt(3, help=help_rung("PP"))]
    strict = counted(case_with(rows, tries))
    assert [r.success for r in strict.records] == [True, False, False]
    assert [r.success for r in strict.sessions] == [True, False]
    assert strict.records[1].contacts == 1
    for same in (
        case_with(rows, tries, done_rule="task_rule"),
        case_with([row(2)], [attempt(2)]),
    ):
        assert counted(same) is same
    assert [r.success for r in counted(case_with(rows, tries, done_rule="no_contact_no_help")).records] == [1, 0, 0]
    alone = counted(case_with([row(2)], tries))
    assert [r.success for r in alone.records] == [True] and [r.success for r in alone.sessions] == [True, False]


@pytest.mark.parametrize(
    ("done", "more", "taken_away"),
    [
        (10, {}, 0),
        (10, {"contacts": 3}, 3),  # each may have been in an attempt of its own
        (10, {"contacts": 30}, 10),
        (10, {"contacts": 1, "took_over": 2}, 3),
        (9, {"contacts": 1}, 0),  # it fits the attempt that was not done
    ],
)
def test_a_total_all_done_loses_an_attempt_for_each_thing_against_it(done, more, taken_away):
    case = case_with().with_totals(
        (DayTotal(2, DAY, "a", "door", 10, done, **more), DayTotal(3, DAY, "b", "door", 10, 10, contacts=1))
    )
    assert [total.done for total in counted(case).totals] == [done - taken_away, 9]
    assert {entry.row.line: entry.n for entry in overruled(case)} == ({2: taken_away} if taken_away else {}) | {3: 1}
    assert counted(case_with().with_totals(case.totals[:1])).totals[0].done == done - taken_away


def test_both_counts_are_told_of_a_method_whose_rows_differ_and_of_no_other():
    rows = [*(row(at) for at in range(2, 8)), row(8, contacts=1), row(9, contacts=2), row(10, success=False)]
    rows += [row(at, method="b") for at in range(11, 14)]
    known = {fact.id: fact for fact in facts(case_with(rows, [attempt(2), attempt(3, help=help_rung("FP"))]))}
    assert list(known) == ["done_recorded.a", "done_strict.a", "since.done_recorded", "since.done_strict"]
    for name, k, n, lines in (
        ("done_recorded.a", 8, 9, (8, 9)),
        ("done_strict.a", 6, 9, (8, 9)),
        ("since.done_recorded", 2, 2, (3,)),
        ("since.done_strict", 1, 2, (3,)),
    ):
        found = known[name]
        assert (found.k, found.n, found.rows) == (k, n, lines) and found.value == pytest.approx(k / n)
        assert (found.low, found.high) == pytest.approx(proportion_confint(k, n, method="wilson"), abs=1e-9)
    assert list(facts(case_with([row(2)], [attempt(2)]))) == []


@of_each(
    "rows, is_recorded",
    [
        ([row(2), row(3)], False),
        ([row(2), row(3, prompts_physical=0)], True),  # that there was none is recorded too
        ([row(2, took_over=1), row(3, took_over=2)], True),
    ],
)
def test_help_is_recorded_where_any_attempt_says_how_much_there_was(rows, is_recorded):
    assert help_is_recorded(case_with(rows)) is is_recorded
