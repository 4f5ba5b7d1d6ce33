"""Stages walked try by try: decisions by hand, what brings back, and the stated error rates of the coach's table."""

from __future__ import annotations

import math
import random
from datetime import date, timedelta

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from docgen.evidence.mastery import COACH_TRIES, coach_table, course, first_decision, mastery_plan
from docgen.evidence.stages import Rule, Try, walk

PLAN = mastery_plan()
DAY = date(2026, 8, 10)
ONE = {number: Rule((f"t{number}",)) for number in range(9)}


def tries(stage, marks, task=None, start=0, **more):
    """Tries of one task, "1" done and "0" not, one a day."""
    return [
        Try(DAY + timedelta(days=start + i), stage, task or f"t{stage}", mark == "1", line=start + i, **more)
        for i, mark in enumerate(marks)
    ]


# Wald 1945: slope ln((1-p0)/(1-p1))/g and intercepts ln((1-b)/a)/g, ln((1-a)/b)/g with g = ln(p1/p0) +
# ln((1-p0)/(1-p1)) (formulas from memory), written out here on their own
@pytest.mark.parametrize(
    ("poor", "good", "alpha", "beta"), [(0.6, 0.9, 0.1, 0.1), (0.5, 0.8, 0.05, 0.1), (0.7, 0.95, 0.1, 0.05)]
)
def test_the_coachs_table_is_walds_lines_in_whole_numbers(poor, good, alpha, beta):
    g = math.log(good / poor) + math.log((1 - poor) / (1 - good))
    slope, up, down = (
        math.log((1 - poor) / (1 - good)) / g,
        math.log((1 - beta) / alpha) / g,
        math.log((1 - alpha) / beta) / g,
    )
    for row in coach_table(mastery_plan(poor, good, alpha, beta)):
        on = [k for k in range(row.n + 1) if k >= slope * row.n + up]
        back = [k for k in range(row.n + 1) if k <= slope * row.n - down]
        assert (row.move_on_at, row.go_back_at) == (min(on, default=None), max(back, default=None))


def _simulated(share, looks, n_drivers=10_000):
    """Shares passed and failed among simulated drivers, looking after these numbers of tries."""
    draw, passed, failed = random.Random(20261125), 0, 0
    table = {row.n: row for row in coach_table(PLAN, looks)}
    for _ in range(n_drivers):
        n_success = 0
        for n in range(1, max(looks) + 1):
            n_success += draw.random() < share
            row = table.get(n)
            if row and row.move_on_at is not None and n_success >= row.move_on_at:
                passed += 1
                break
            if row and row.go_back_at is not None and n_success <= row.go_back_at:
                failed += 1
                break
    return passed / n_drivers, failed / n_drivers


@pytest.mark.parametrize("looks", [tuple(range(1, 200)), COACH_TRIES], ids=["after each try", "as the coach looks"])
def test_ten_thousand_simulated_drivers_are_passed_and_failed_at_the_stated_rates(looks):
    # planned errors 10 % and 10 %; Wald's bounds a/(1-b) and b/(1-a) hold exactly; 4 standard errors of 10,000 drivers
    spread = 4 * math.sqrt(0.25 / 10_000)
    at_poor, at_good = course(0.6, PLAN, max(looks), looks), course(0.9, PLAN, max(looks), looks)
    passed, failed = _simulated(0.6, looks)
    assert passed == pytest.approx(at_poor.p_mastered, abs=spread) and failed == pytest.approx(
        at_poor.p_not_yet, abs=spread
    )
    assert passed <= 0.1 / 0.9
    passed, failed = _simulated(0.9, looks)
    assert passed == pytest.approx(at_good.p_mastered, abs=spread) and failed == pytest.approx(
        at_good.p_not_yet, abs=spread
    )
    assert failed <= 0.1 / 0.9


def test_looking_after_each_try_is_the_course_without_looks():
    assert course(0.75, PLAN, 60) == course(0.75, PLAN, 60, range(1, 61))


def test_six_of_six_pass_a_stage_and_three_failures_in_six_go_back():
    # rows of the table: 6 tries, 6 done: on; 6 tries, 3 done: back (from the lines, by hand)
    up = walk(tries(4, "111111"), PLAN, 4, ONE)
    assert (up.stage, up.passed) == (5, ((4, DAY + timedelta(days=5)),))
    down = walk(tries(4, "110010"), PLAN, 4, ONE)
    assert (down.stage, down.ended[0].answer, down.ended[0].n_success) == (3, "not_yet", 3)
    assert walk(tries(4, "11111"), PLAN, 4, ONE).still_open[0].n == 5


def test_a_stage_that_sent_the_driver_back_must_be_passed_again_with_the_one_below():
    record = (
        tries(4, "111111") + tries(5, "000111", start=6) + tries(4, "111111", start=12) + tries(5, "111111", start=18)
    )
    found = walk(record, PLAN, 4, ONE)
    assert found.stage == 6 and [stage for stage, _ in found.passed] == [4, 4, 5]


def on_one_day(*parts):
    return [replace(one, on=DAY) for part in parts for one in part]


# by hand: a step back is one that leaves a lower stage reached than before; (series, stage before, stage after, passed
# again on)
@of_each(
    ("start", "record", "steps"),
    [
        (4, tries(5, "000000"), []),  # above the stage reached
        (0, tries(0, "000000") + tries(0, "111111", start=6), []),  # nowhere to go
        (4, tries(4, "000000"), [(0, 4, 3, None)]),
        (4, tries(3, "000000"), [(0, 4, 2, None)]),
        (2, tries(0, "000000"), [(0, 2, 0, None)]),
        (8, tries(8, "111111") + tries(8, "000000"), [(1, 8, 7, None)]),  # there is no ninth
        (
            4,
            tries(4, "111111") + tries(5, "000000") + tries(4, "111111", start=6),
            [(1, 5, 4, DAY + timedelta(days=11))],
        ),
        (4, on_one_day(tries(4, "111111"), tries(5, "000000"), tries(4, "111111")), [(1, 5, 4, DAY)]),
        (
            4,
            tries(4, "000000") + tries(3, "000000") + tries(2, "111111", start=6) + tries(3, "111111", start=12),
            [(0, 4, 3, DAY + timedelta(days=17)), (1, 3, 2, DAY + timedelta(days=11))],
        ),
    ],
)
def test_each_step_back_is_told_with_both_stages_and_the_day_it_was_passed_again(start, record, steps):
    assert [(step.place, step.before, step.after, step.again) for step in walk(record, PLAN, start, ONE).back] == steps


def test_the_counts_of_the_stages_above_start_again_after_going_back():
    rules = ONE | {5: Rule(("t5", "u5"))}
    record = tries(5, "11111") + tries(5, "000000", "u5", start=5) + tries(5, "1", start=12)
    found = walk(record, PLAN, 5, rules)
    assert found.stage == 4 and found.still_open[0].n == 1


def test_every_task_of_a_stage_and_any_other_tried_in_it_must_be_mastered():
    rules = ONE | {3: Rule(("left", "right"))}
    record = tries(3, "111111", "left") + tries(3, "1", "back", start=6) + tries(3, "111111", "right", start=7)
    assert walk(record, PLAN, 3, rules).stage == 3
    assert walk(record + tries(3, "11111", "back", start=13), PLAN, 3, rules).stage == 4


def test_a_stop_takes_so_many_in_a_row_whatever_the_table_says():
    rules = ONE | {2: Rule(("stop",), in_a_row=10)}
    assert walk(tries(2, "1" * 9, "stop", stop=True), PLAN, 2, rules).stage == 2
    assert walk(tries(2, "1" * 10, "stop", stop=True), PLAN, 2, rules).stage == 3
    missed = tries(2, "1" * 9 + "0" + "1" * 9, "stop", stop=True)
    assert walk(missed, PLAN, 2, rules).stage == 2
    assert walk(missed + tries(2, "1", "stop", start=19, stop=True), PLAN, 2, rules).stage == 3


def test_a_stop_rule_broken_in_a_try_starts_every_count_of_its_stage_again():
    rules = ONE | {4: Rule(("t4", "u4"))}
    record = tries(4, "111111") + tries(4, "11111", "u4", start=6) + tries(4, "0", "u4", start=11, broke=True)
    found = walk(record, PLAN, 4, rules)
    assert found.ended[-1].answer == "stopped" and not found.still_open and found.stage == 4
    assert walk(record + tries(4, "111111", "u4", start=12), PLAN, 4, rules).stage == 4  # the other task as well
    assert walk(record + tries(4, "111111", "u4", start=12) + tries(4, "111111", start=18), PLAN, 4, rules).stage == 5


def test_days_are_counted_where_a_stage_asks_for_them():
    rules = ONE | {6: Rule(("t6",), n_days=3)}
    same_day = [Try(DAY, 6, "t6", True, line=i) for i in range(10)]
    assert walk(same_day, PLAN, 6, rules).stage == 6
    assert (
        walk(
            same_day + [Try(DAY + timedelta(days=d), 6, "t6", True, line=10 + d) for d in (1, 2)], PLAN, 6, rules
        ).stage
        == 7
    )


def test_what_the_last_row_does_not_settle_is_for_the_therapist():
    marks = "101111" + "110111" + "011110" + "111110"  # 19 of 24: between 17 and 20
    assert marks.count("1") == 19
    found = walk(tries(4, marks), PLAN, 4, ONE)
    assert (found.ended[-1].answer, found.ended[-1].n, found.stage) == ("undecided", 24, 4)


def test_after_going_back_the_stage_gone_back_to_is_counted_from_the_start():
    rules = ONE | {3: Rule(("t3", "u3"))}
    up = tries(3, "111111") + tries(3, "111111", "u3", start=6)
    down = up + tries(4, "000000", start=12)
    assert walk(up, PLAN, 3, rules).stage == 4 and walk(down, PLAN, 3, rules).stage == 3
    half = down + tries(3, "111111", "u3", start=18)
    assert walk(half, PLAN, 3, rules).stage == 3 and walk(half, PLAN, 3, rules).mastered == ("u3",)
    assert walk(half + tries(3, "111111", start=24), PLAN, 3, rules).stage == 4
    found = walk(tries(3, "11111") + tries(4, "000000", start=5) + tries(3, "1", start=11), PLAN, 4, ONE)
    assert found.stage == 3 and found.still_open[0].n == 1


def test_there_is_no_stage_after_the_last():
    found = walk(tries(7, "111111") + tries(8, "111111", start=6), PLAN, 7, ONE)
    assert found.stage == 8 and [stage for stage, _ in found.passed] == [7, 8]
    assert found.entered == 5  # the row that passed the seventh


@pytest.mark.parametrize(
    "marks, answer, n",
    [
        # rows of the table at 8: on 8, back 4; 10: on 9, back 6; 20: on 17, back 14; 24: on 20, back 17
        ("1111" + "00" + "1" + "0" + "0" + "1", "not_yet", 10),  # 5 of 9 is at the line for 9, which has no row
        ("111101" + "1" + "0" + "11" + "10" + "110" + "11110" + "0" + "111", "undecided", 24),  # 15 of 21 likewise
    ],
)
def test_the_count_is_looked_at_only_where_the_coachs_table_has_a_row(marks, answer, n):
    ended = walk(tries(4, marks), PLAN, 4, ONE).ended[0]
    assert (ended.answer, ended.n) == (answer, n)


def test_a_stage_that_says_no_more_takes_ten_stops_in_a_row_and_one_day():
    rules = {2: Rule(("stop",)), 3: Rule(("t3",)), 4: Rule(("t4",))}
    assert walk(tries(2, "1" * 9, "stop", stop=True), PLAN, 2, rules).stage == 2
    assert walk(tries(2, "1" * 10, "stop", stop=True), PLAN, 2, rules).stage == 3
    assert walk(on_one_day(tries(3, "111111")), PLAN, 3, rules).stage == 4
    assert Try(DAY, 3, "t3", True).line == 0  # of no row of a file


@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.lists(st.tuples(st.integers(0, 8), st.booleans(), st.booleans()), max_size=120), st.integers(0, 8))
def test_any_record_leads_to_a_stage_there_is_and_loses_no_try(record, start):
    made = [
        Try(DAY + timedelta(days=i), stage, f"t{stage}", done, broke=broke and not done, line=i)
        for i, (stage, done, broke) in enumerate(record)
    ]
    found = walk(made, PLAN, start, ONE)
    assert 0 <= found.stage <= 8
    for judged in (*found.ended, *found.still_open):
        assert judged.n == len(judged.lines) and 0 <= judged.n_success <= judged.n <= 24
        if judged.answer in ("mastered", "not_yet"):
            assert first_decision([made[line].done for line in judged.lines], PLAN).answer in ("mastered", "not_yet")
