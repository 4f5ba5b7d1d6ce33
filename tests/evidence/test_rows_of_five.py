"""Rows of five: worked rows by hand, the exact course against values reckoned apart, and a simulation."""

from __future__ import annotations

import math
import random
from itertools import product

import pytest
from gathered import of_each

from docgen.evidence.rows_of_five import FULL, MOST_ROWS, course, decide, falls, rising, steady, tries_to_a_look

# all reference values of this file: worked out apart from this program on 2026-11-28, by a dynamic programming that is
# not ours; printed to four decimals, mean rows to three
PRINTED = 5.001e-5


@of_each(
    ("rows", "answer", "at"),
    [
        # rows worked by hand
        ((5, 5), "move_on", 2),
        ((5, 4), "go_on", 2),
        ((5, 4, 4), "move_on", 3),
        ((5, 3, 5), "move_on", 3),
        ((4, 4, 4), "go_on", 3),
        ((2, 3, 4, 4, 5), "move_on", 5),
        ((3, 3, 3, 3), "change", 4),
        ((2, 3, 3, 3), "go_on", 4),
        ((4, 3, 3, 3), "change", 4),
        ((1, 1), "change", 2),
        ((1, 2), "go_on", 2),
        ((0, 3, 3, 3, 4, 4, 5), "move_on", 7),
        ((4, 3, 4, 3, 4, 3, 4, 3), "therapist", 8),
        # by hand
        ((), "go_on", 0),
        ((5,), "go_on", 1),
        ((0,), "go_on", 1),
        ((2, 0), "change", 2),
        ((5, 0, 2), "change", 3),
        ((3, 2, 3, 3), "go_on", 4),
        ((1, 2, 3, 3, 3), "go_on", 5),  # the last two rows have more than the two before
        ((4, 3, 4, 3, 4, 3, 5, 5), "move_on", 8),
    ],
)
def test_full_rows_say_what_the_table_of_the_coach_says(rows, answer, at):
    assert decide(rows) == answer and len(rows) == at
    assert all(decide(rows[:n]) == "go_on" for n in range(at))


@of_each(
    ("rows", "answer"),
    [
        ((5, 5), "go_on"),  # two rows are no way through
        ((5, 5, 4), "move_on"),
        ((5, 4, 4), "go_on"),
        ((1, 1), "change"),
        ((3, 3, 3, 3), "change"),
    ],
)
def test_with_nobody_near_it_takes_fourteen_of_fifteen(rows, answer):
    assert decide(rows, nobody_near=True) == answer


@of_each(
    ("share", "move_on", "change", "neither", "rows_on", "rows_change"),
    [
        (0.30, 0.0000, 0.9999, 0.0001, 3.797, 3.235),
        (0.50, 0.0140, 0.9795, 0.0065, 4.359, 4.445),
        (0.60, 0.0904, 0.8809, 0.0287, 4.401, 4.763),
        (0.65, 0.1882, 0.7624, 0.0493, 4.380, 4.879),
        (0.70, 0.3449, 0.5860, 0.0691, 4.313, 4.960),
        (0.75, 0.5523, 0.3747, 0.0730, 4.167, 4.983),
        (0.80, 0.7658, 0.1821, 0.0521, 3.900, 4.920),
        (0.90, 0.9874, 0.0096, 0.0030, 2.956, 4.455),
        (0.95, 0.9996, 0.0004, 0.0000, 2.454, 4.142),
    ],
)
def test_the_operating_characteristics_are_those_worked_out_apart(
    share, move_on, change, neither, rows_on, rows_change
):
    found = steady(share)
    assert (found.p_move_on, found.p_change, found.p_neither) == pytest.approx((move_on, change, neither), abs=PRINTED)
    assert (found.rows_to_move_on, found.rows_to_change) == pytest.approx((rows_on, rows_change), abs=5.001e-4)


def test_a_driver_who_does_all_moves_on_after_two_rows_and_is_never_told_to_change():
    found = steady(1)
    assert (found.p_move_on, found.rows_to_move_on, found.p_change, found.rows_to_change) == (1, 2, 0, None)


def test_the_chance_of_moving_on_row_by_row():
    by_row = (0, 0.3487, 0.4732, 0.0788, 0.0489, 0.0261, 0.0077, 0.0039)
    assert steady(0.9).move_on == pytest.approx(by_row, abs=PRINTED)


@of_each(
    ("share", "move_on", "change"),
    [
        (0.60, 0.0198, 0.9362),
        (0.65, 0.0528, 0.8569),
        (0.80, 0.4721, 0.2887),
        (0.90, 0.9206, 0.0219),
        (0.95, 0.9947, 0.0011),
    ],
)
def test_the_same_with_nobody_near(share, move_on, change):
    found = steady(share, nobody_near=True)
    assert (found.p_move_on, found.p_change) == pytest.approx((move_on, change), abs=PRINTED)


def test_a_learner_who_rises_is_told_to_change_something_less_than_once_in_a_hundred():
    found = rising(0.5, 0.95, 12)
    assert (found.p_move_on, found.p_change) == pytest.approx((0.9963, 0.0033), abs=PRINTED)
    assert found.p_change < 0.01
    by_exponential = course([0.95 - 0.5 * math.exp(-t / 10) for t in range(40)])
    assert (by_exponential.p_move_on, by_exponential.p_change) == pytest.approx((0.9089, 0.0806), abs=PRINTED)


# printed to four figures and fewer
@pytest.mark.parametrize(
    "share, tries, within",
    [(0.95, 3110, 1), (0.90, 370, 0.5), (0.80, 53.9, 0.05), (0.70, 21.2, 0.05), (0.60, 12.3, 0.05), (0.50, 8.7, 0.05)],
)
def test_a_passed_task_asks_for_a_look_after_as_many_tries_as_was_worked_out_apart(share, tries, within):
    assert tries_to_a_look(share) == pytest.approx(tries, abs=within)


def test_rows_that_fall_are_found_one_by_one():
    for before, last in product(range(FULL + 1), repeat=2):
        assert falls((before, last)) == (last <= 2 or before + last <= 6)
    assert falls((2,)) and not falls((3,)) and not falls(())


def test_ten_thousand_simulated_drivers_fare_as_reckoned():
    """Four standard errors of 10,000 drivers; the simulation shares with the rule only `decide`."""
    draw, n_drivers = random.Random(20261128), 10_000
    ends = {"move_on": 0, "change": 0, "therapist": 0}
    for _ in range(n_drivers):
        rows: list[int] = []
        while (answer := decide(rows)) == "go_on":
            rows.append(sum(draw.random() < 0.8 for _ in range(FULL)))
        ends[answer] += 1
    spread = 4 * math.sqrt(0.25 / n_drivers)
    found = steady(0.8)
    assert ends["move_on"] / n_drivers == pytest.approx(found.p_move_on, abs=spread)
    assert ends["change"] / n_drivers == pytest.approx(found.p_change, abs=spread)


def test_a_course_of_fewer_rows_ends_with_them():
    assert len(course([0.5] * 12).move_on) == 2 and course([]).p_neither == 1
    assert len(course([1] * 100).move_on) == MOST_ROWS


@of_each(
    ("ask", "words"),
    [
        (lambda: decide((6,)), "rows must be from 0 to 5, not 6"),
        (lambda: steady(1.1), "chances must be at least 0 and at most 1, not 1.1"),
        (lambda: rising(0.5, 0.9, 1), "over must be at least 2, not 1"),
        (lambda: tries_to_a_look(1), "share must be at least 0 and at most 0.999, not 1"),
    ],
)
def test_what_cannot_be_is_refused_by_name(ask, words):
    with pytest.raises(ValueError, match=words):
        ask()


def test_what_falls_is_told_from_the_last_two_rows_alone():
    """By hand: two rows of 3 fall, whatever stood before; a row of 5 before them counts for nothing."""
    assert falls((5, 3, 3)) is falls((3, 3)) is True
    assert falls((0, 5, 5)) is falls((5, 5)) is False
