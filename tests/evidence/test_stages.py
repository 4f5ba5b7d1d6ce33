"""Steps walked try by try: what passes, what is to be looked at, and what begins the counts anew, all by hand."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from docgen.evidence.stages import Judged, Rule, Try, walk

DAY = date(2026, 8, 10)
NO_STOPS = {number: Rule((f"t{number}",), in_a_row=0) for number in range(9)}
MARKS = {"1": "alone", "h": "helped", "0": "not", "?": None, "p": "planned"}


def tries(stage, marks, task=None, day=0, a_day=5, **more):
    """Tries of one task: 1 alone, h helped, 0 not, ? not written, p planned; so many a day."""
    return [
        Try(
            DAY + timedelta(days=day + i // a_day), stage, task or f"t{stage}", MARKS[mark], line=1000 * day + i, **more
        )
        for i, mark in enumerate(marks)
    ]


def stops(stage, marks, day=0, a_day=4, **more):
    return tries(stage, marks, "stop", day, a_day, stop=True, **more)


def answers(record, start=4, rules=NO_STOPS):
    return [(judged.answer, judged.rows) for judged in walk(record, start, rules).ended]


def test_two_full_rows_alone_pass_a_task_and_its_step():
    found = walk(tries(4, "1" * 10), 4, NO_STOPS)
    assert (found.stage, found.passed) == (5, ((4, DAY + timedelta(days=1)),))
    assert found.entered == 9 and found.ended[0].rows == (5, 5)
    assert walk(tries(4, "1" * 9), 4, NO_STOPS).still_open[0].n == 9


def test_only_the_first_five_tries_of_a_day_count():
    assert walk(tries(4, "1" * 40, a_day=40), 4, NO_STOPS).still_open[0].n == 5
    late_misses = tries(4, "1111100000", a_day=10) + tries(4, "11111", day=1)
    assert answers(late_misses) == [("passed", (5, 5))]


def test_helped_tries_add_nothing_and_those_of_unknown_help_do_not_count():
    assert walk(tries(4, "1111h" + "hhhhh"), 4, NO_STOPS).still_open[0].rows == (4, 0)
    found = walk(tries(4, "1111?" + "1?111"), 4, NO_STOPS)
    assert (found.still_open[0].n, found.uncounted) == (8, (4, 6))


def test_a_count_that_asks_for_a_change_ends_and_the_second_one_waits_for_the_therapist():
    twice = tries(4, "10000" * 2) + tries(4, "10000" * 2, day=2)
    assert answers(twice) == [("change", (1, 1)), ("therapist", (1, 1))]
    found = walk(twice + tries(4, "1" * 20, day=4), 4, NO_STOPS)
    assert found.stage == 4 and [judged.task for judged in found.waits] == ["t4"]  # what follows counts for nothing
    assert walk(twice + decided(tries(4, "1" * 10, day=4)), 4, NO_STOPS).stage == 5


def decided(record):
    """The same tries, the therapist being recorded at the first to have decided."""
    return [replace(record[0], cleared=True), *record[1:]]


def test_once_the_therapist_has_decided_a_count_begins_as_the_first_one_did():
    twice = tries(4, "10000" * 2) + tries(4, "10000" * 2, day=2)
    found = walk(twice + decided(tries(4, "10000" * 2, day=4)), 4, NO_STOPS)
    assert [judged.answer for judged in found.ended] == ["change", "therapist", "change"]
    assert (found.stage, found.back, found.waits) == (4, (), ())
    passed = walk(twice + decided(tries(4, "1" * 10, day=4)), 4, NO_STOPS).ended[-1]
    assert (passed.answer, passed.rows) == ("passed", (5, 5))
    broken = walk(stops(2, "hhh") + decided(stops(2, "hh" + "1" * 10, day=2)), 2, {2: Rule(()), 3: Rule(("t3",))}).ended
    assert [(judged.answer, judged.breaks) for judged in broken] == [("therapist", 3), ("passed", 2)]


def test_a_decision_where_nothing_waits_takes_no_step_back():
    found = walk(tries(4, "1" * 10) + decided(tries(4, "1", day=3)), 4, NO_STOPS)
    assert (found.stage, found.back) == (5, ())


def test_from_behind_the_last_step_it_goes_back_from_the_last():
    missed = stops(2, "1" * 10) + stops(2, "00", day=3)
    found = walk(missed + decided(tries(1, "1", day=5)), 2, {2: Rule(())})
    assert [(back.before, back.after) for back in found.back] == [(2, 1)]


def test_an_open_count_tells_full_rows_and_all_its_tries():
    (judged,) = walk(tries(4, "1" * 5 + "1101"), 4, NO_STOPS).still_open
    assert (judged.rows, judged.n, judged.n_alone, judged.breaks) == ((5,), 9, 8, 0)


def test_nothing_is_taken_back_by_a_count():
    up = tries(4, "1" * 10) + tries(5, "0" * 10, day=2)
    found = walk(up, 4, NO_STOPS)
    assert (found.stage, found.back) == (5, ()) and found.ended[-1].answer == "change"


def test_the_therapist_may_go_back_a_step():
    waits = tries(4, "1" * 10) + tries(5, "0" * 20, day=2)
    lower = tries(4, "1", day=8)
    found = walk(waits + [replace(lower[0], cleared=True)], 4, NO_STOPS)
    assert (found.stage, [(back.before, back.after) for back in found.back]) == (4, [(5, 4)])
    assert walk(waits + lower, 4, NO_STOPS).stage == 5  # without a decision on record
    again = tries(4, "1" * 10, day=8)
    assert walk(waits + [replace(again[0], cleared=True), *again[1:]], 4, NO_STOPS).stage == 5


def test_eight_rows_that_settle_nothing_are_for_the_therapist():
    assert answers(tries(4, ("11110" + "11100") * 4)) == [("therapist", (4, 3, 4, 3, 4, 3, 4, 3))]


def test_with_nobody_near_three_rows_are_wanted():
    rules = NO_STOPS | {6: Rule(("t6",), in_a_row=0, nobody_near=True)}
    assert walk(tries(6, "1" * 10), 6, rules).stage == 6
    assert walk(tries(6, "1" * 14 + "0"), 6, rules).stage == 7


def test_ten_stops_in_a_row_on_three_days_pass_the_stops_of_a_step():
    rules = {2: Rule(()), 3: Rule(("t3",))}
    assert walk(stops(2, "1" * 9), 2, rules).stage == 2
    assert walk(stops(2, "1" * 10), 2, rules).stage == 3  # four a day: the third day
    assert walk(stops(2, "1" * 10, a_day=5), 2, rules).stage == 2
    assert walk(stops(2, "1" * 11, a_day=5), 2, rules).stage == 3
    assert walk(stops(2, "p" * 30), 2, rules).stage == 2  # planned ones count neither way
    assert walk(stops(2, "1"), 2, {2: Rule((), in_a_row=1, n_days=1), 3: Rule(("t3",))}).stage == 3
    assert walk(stops(4, "1" * 12), 4, NO_STOPS).ended == ()  # none are asked for at this step
    assert walk(stops(5, "1" * 12), 5, {4: Rule(())}).ended == ()  # which has no rule
    found = walk(stops(2, "?" * 30), 2, rules)
    assert found.stage == 2 and len(found.uncounted) == 30


@of_each(
    ("marks", "answer", "breaks"),
    [
        ("1" * 9 + "h" + "1" * 10, "passed", 1),  # a word more breaks the row as a miss does
        ("0h" + "1" * 10, "passed", 2),
        ("1" * 9 + "h" + "1" * 9 + "h" + "1" * 9 + "h", "therapist", 3),
        ("hhh", "therapist", 3),
    ],
)
def test_a_third_break_waits_for_the_therapist(marks, answer, breaks):
    found = walk(stops(2, marks), 2, {2: Rule(()), 3: Rule(("t3",))})
    assert (found.ended[-1].answer, found.ended[-1].breaks) == (answer, breaks)
    assert bool(found.waits) == (answer == "therapist")
    more = stops(2, "1" * 12, day=30)
    if answer == "therapist":
        assert walk(stops(2, marks) + more, 2, {2: Rule(())}).passed == ()


def test_a_later_step_asks_for_its_own_stops_and_the_row_since_the_last_break_runs_on():
    rules = {2: Rule(()), 3: Rule(("t3",))}
    found = walk(stops(2, "1" * 10) + tries(3, "1" * 10, day=3), 2, rules)
    assert found.stage == 3 and found.mastered == ("t3",)
    found = walk(stops(2, "1" * 10) + tries(3, "1" * 10, day=3) + stops(3, "1" * 10, day=5), 2, rules)
    assert [stage for stage, _ in found.passed] == [2, 3] and found.since_break == 20
    assert walk(stops(2, "1" * 10) + stops(3, "11h1", day=5), 2, rules).since_break == 1


def test_what_was_passed_is_looked_at_when_it_falls_and_stays_passed():
    rules = {4: Rule(("t4", "u4"), in_a_row=0)}
    passed = tries(4, "1" * 10)
    assert answers(passed + tries(4, "11000", day=2), rules=rules)[1:] == [("look", (2,))]
    assert answers(passed + tries(4, "1110011100", day=2), rules=rules)[1:] == [("look", (3, 3))]
    assert answers(passed + tries(4, "1110011110", day=2), rules=rules)[1:] == []
    assert walk(passed + tries(4, "0" * 20, day=2), 4, rules).mastered == ("t4",)


def test_a_stop_missed_after_the_pass_is_looked_at_and_the_second_in_twenty_is_for_the_therapist():
    rules = {2: Rule(()), 3: Rule(("t3",))}
    passed = stops(2, "1" * 10)

    def after(marks):
        return [judged.answer for judged in walk(passed + stops(2, marks, day=4), 2, rules).ended][1:]

    assert after("1h1") == [] and after("101") == ["look"]
    assert after("0" + "1" * 18 + "0") == ["look", "therapist"]
    assert after("0" + "1" * 19 + "0") == ["look", "look"]
    broken_before = walk(stops(2, "0" + "1" * 10) + stops(2, "0", day=4), 2, rules).ended
    assert [(judged.answer, judged.breaks) for judged in broken_before] == [("passed", 1), ("look", 0)]


@of_each(
    ("change", "n"),
    [
        ({"anew": True}, 1),
        ({"on": DAY + timedelta(days=15)}, 1),  # more than 14 days since the last lesson
        ({"on": DAY + timedelta(days=14)}, 5),
        ({}, 5),
    ],
)
def test_counts_begin_anew_after_a_change_and_after_a_pause(change, n):
    record = tries(4, "1111") + [replace(tries(4, "1", day=1)[0], **change)]
    found = walk(record, 4, NO_STOPS)
    assert found.still_open[0].n == n and [judged.answer for judged in found.ended] == ["anew"] * (n == 1)


def test_a_change_keeps_the_breaks_of_the_stops():
    rules = {2: Rule(()), 3: Rule(("t3",))}
    after = stops(2, "1h", day=3)
    found = walk(stops(2, "hh") + [replace(after[0], anew=True), after[1]], 2, rules)
    assert found.waits and found.waits[0].breaks == 3


def test_an_event_begins_every_count_of_its_step_anew():
    rules = NO_STOPS | {4: Rule(("t4", "u4"), in_a_row=0)}
    record = tries(4, "1" * 10) + tries(4, "1111", "u4", day=2) + tries(4, "0", "u4", day=3, broke="step")
    found = walk(record, 4, rules)
    assert found.ended[-1].answer == "stopped" and not found.still_open and found.mastered == ()
    assert walk(record + tries(4, "1" * 10, "u4", day=4), 4, rules).stage == 4  # the other task as well
    assert walk(record + tries(4, "1" * 10, "u4", day=4) + tries(4, "1" * 10, day=6), 4, rules).stage == 5


def test_an_event_before_any_counted_try_is_told_of_its_task_alone():
    (only,) = walk(tries(4, "?", broke="step"), 4, NO_STOPS).ended
    assert only == Judged(4, "t4", "stopped", (), 0, 0, DAY, (0,), stop=False, breaks=0, in_a_row=0)


def test_a_second_missed_stop_begins_the_stops_and_the_task_it_fell_in_anew():
    rules = {4: Rule(("t4", "u4"))}
    record = tries(4, "1111") + tries(4, "111", "u4") + stops(4, "1100", broke="")
    record[-1] = replace(record[-1], broke="stops", fell_in="u4")
    found = walk(record, 4, rules)
    assert [(judged.task, judged.n) for judged in found.still_open] == [("t4", 4)]
    assert {judged.task for judged in found.ended if judged.answer == "stopped"} == {"u4", "stop"}


def test_what_is_driven_ahead_passes_no_step_before_its_turn():
    found = walk(tries(5, "1" * 10) + tries(4, "1" * 5, day=2), 4, NO_STOPS)
    assert found.stage == 4
    assert walk(tries(5, "1" * 10) + tries(4, "1" * 10, day=2), 4, NO_STOPS).stage == 6


def test_there_is_no_step_after_the_last_and_none_without_a_rule():
    found = walk(tries(7, "1" * 10) + tries(8, "1" * 10, day=2), 7, NO_STOPS)
    assert found.stage == 8 and [stage for stage, _ in found.passed] == [7, 8] and found.entered == 9
    assert walk(tries(4, "1" * 10), 4, {}).passed == ()
    assert Try(DAY, 3, "t3", "alone").line == 0  # of no row of a file


@settings(max_examples=80, deadline=None, derandomize=True)
@given(
    st.lists(
        st.tuples(st.integers(0, 8), st.sampled_from("1h0?p"), st.booleans(), st.sampled_from(("", "step", "stops"))),
        max_size=120,
    ),
    st.integers(0, 8),
)
def test_any_record_leads_to_a_step_there_is_and_counts_no_try_twice(record, start):
    made = [
        Try(DAY + timedelta(days=i // 3), stage, "stop" if stop else f"t{stage}", MARKS[mark], stop, broke, line=i)
        for i, (stage, mark, stop, broke) in enumerate(record)
    ]
    found = walk(made, start, {number: Rule((f"t{number}",)) for number in range(9)})
    assert 0 <= found.stage <= 8 and found.stage >= start
    in_counts = [line for judged in (*found.ended, *found.still_open) if judged.n for line in judged.lines]
    looks = {
        line
        for judged in found.ended
        if judged.stop and judged.answer in ("look", "therapist")
        for line in judged.lines
    }
    assert len([line for line in in_counts if line not in looks]) == len({*in_counts} - looks)
    for judged in (*found.ended, *found.still_open):
        assert 0 <= judged.n_alone <= judged.n and sum(judged.rows) <= judged.n_alone


@pytest.mark.parametrize("stop", [True, False])
def test_a_hundred_thousand_tries_are_walked_in_a_moment(stop):
    record = [Try(DAY + timedelta(days=i // 5), 4, "t4", "alone", stop, line=i) for i in range(100_000)]
    assert walk(record, 4, {4: Rule(() if stop else ("t4",), in_a_row=10 if stop else 0)}).passed
