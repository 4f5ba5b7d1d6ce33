"""Mastery: Wald's lines and means, exact courses, coach tables, and the test walked and simulated."""

from __future__ import annotations

import math
import random
from itertools import product

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.evidence.mastery import (
    COACH_TRIES,
    coach_row,
    coach_table,
    course,
    decide,
    first_decision,
    mastery_plan,
    to_settle,
)

modest = settings(max_examples=60, deadline=None, derandomize=True)
errors = st.floats(0.01, 0.2)
plans = st.builds(mastery_plan, st.floats(0.2, 0.7), st.floats(0.75, 0.97), errors, errors)

# Wald 1947, Sequential Analysis, chapter 5, formulas; the last plan NIST/SEMATECH handbook 6.2; both from
# memory.
# Exact columns by dynamic programming, independent of Wald's approximation.
# plan: slope, above, below, wins in a row, fails in a row, Wald means (poor, good, slope), exact means, exact
# P(pass)
PLANS = [
    ((0.5, 0.8, 0.05, 0.10), 0.6610, 2.0850, 1.6240, 7, 3, (8.94, 12.33, 15.11), (10.68, 14.22), (0.0401, 0.9268)),
    ((0.6, 0.85, 0.05, 0.10), 0.7379, 2.1746, 1.6938, 9, 3, (10.88, 15.95, 19.05), (13.52, 18.19), (0.0433, 0.9354)),
    ((0.7, 0.9, 0.05, 0.10), 0.8138, 2.1411, 1.6677, 12, 3, (12.98, 20.43, 23.57), (15.84, 22.50), (0.0469, 0.9332)),
    ((0.8, 0.95, 0.05, 0.10), 0.8897, 1.8550, 1.4449, 17, 2, (14.27, 25.29, 27.31), (17.33, 27.27), (0.0496, 0.9325)),
    ((0.5, 0.7, 0.05, 0.05), 0.6029, 3.4751, 3.4751, 9, 6, (30.40, 32.21, 50.44), (33.29, 34.45), (0.0440, 0.9597)),
    ((0.5, 0.9, 0.05, 0.05), 0.7325, 1.3401, 1.3401, 6, 2, (5.19, 7.20, 9.16), (6.54, 8.58), (0.0345, 0.9705)),
    ((0.01, 0.10, 0.05, 0.10), 0.0397, 1.2054, 0.9389, 2, 24, (27.96, 16.45, 29.65), (30.21, 22.37), (0.0220, 0.9004)),
]


def _mean_attempts(plan):
    """Wald's formula, at the poor share, the good share and the slope: Wald 1947, Sequential Analysis, chapter 5 (from
    memory)."""
    up, down, slope = plan.above, plan.below, plan.slope
    return (
        ((1 - plan.alpha) * -down + plan.alpha * up) / (plan.poor - slope),
        (plan.beta * -down + (1 - plan.beta) * up) / (plan.good - slope),
        up * down / (slope * (1 - slope)),
    )


@of_each(("shares", "slope", "above", "below", "wins", "fails", "wald", "exact", "passes"), PLANS)
def test_published_plans_are_met(shares, slope, above, below, wins, fails, wald, exact, passes):
    plan = mastery_plan(*shares)
    assert (plan.slope, plan.above, plan.below) == pytest.approx((slope, above, below), abs=5.001e-5)
    settle = to_settle(0, 0, plan)
    assert (settle.n_successes, settle.n_failures) == (wins, fails)
    means = _mean_attempts(plan)
    assert means == pytest.approx(wald, abs=5.001e-3)
    at_poor, at_good = course(plan.poor, plan), course(plan.good, plan)
    assert (at_poor.mean_attempts, at_good.mean_attempts) == pytest.approx(exact, abs=5.001e-3)
    assert (at_poor.p_mastered, at_good.p_mastered) == pytest.approx(passes, abs=5.001e-5)
    # Wald's formula is too low
    assert at_poor.mean_attempts > means[0] and at_good.mean_attempts > means[1]


@of_each(
    ("n", "move_on_at", "go_back_at"),
    [
        # lines of 0.5, 0.8, 0.05, 0.10, by hand
        (5, None, 1),
        (7, 7, 3),
        (8, 8, 3),
        (10, 9, 4),
        (15, 12, 8),
        (20, 16, 11),
        (30, 22, 18),
    ],
)
def test_worked_whole_number_lines_are_met(n, move_on_at, go_back_at):
    row = coach_row(n, mastery_plan(0.5, 0.8, 0.05, 0.10))
    assert (row.move_on_at, row.go_back_at) == (move_on_at, go_back_at)


def test_the_coach_table_of_the_default_plan():
    assert mastery_plan() == mastery_plan(0.6, 0.9, 0.10, 0.10)
    table = coach_table(mastery_plan())  # by hand
    assert tuple(row.n for row in table) == COACH_TRIES == (6, 7, 8, 10, 12, 15, 20, 24)
    assert [row.move_on_at for row in table] == [6, 7, 8, 9, 11, 13, 17, 20]
    assert [row.go_back_at for row in table] == [3, 4, 4, 6, 8, 10, 14, 17]


def test_a_line_met_exactly_counts_as_met():
    # 0.2 against 0.8, both errors 0.2: slope 1/2, both distances 1/2, so one attempt decides, by hand
    plan = mastery_plan(0.2, 0.8, 0.2, 0.2)
    rows = coach_table(plan, (1, 3, 5))
    assert [(row.move_on_at, row.go_back_at) for row in rows] == [(1, 0), (2, 1), (3, 2)]


@pytest.mark.parametrize(
    ("n", "n_success", "answer"),
    [
        (7, 7, "mastered"),
        (10, 9, "mastered"),
        (10, 5, "keep_on"),
        (10, 4, "not_yet"),
        (0, 0, "keep_on"),
    ],
)
def test_worked_decisions_are_met(n, n_success, answer):
    # log likelihood ratios 3.2900, 3.3137, -2.2314, ... against 2.8904 and -2.2513, by hand
    assert decide(n, n_success, mastery_plan(0.5, 0.8, 0.05, 0.10)) == answer


@modest
@given(plans, st.lists(st.booleans(), max_size=60))
def test_the_lines_say_what_the_likelihood_ratio_says(plan, outcomes):
    ratio, expected = 0.0, ("keep_on", len(outcomes))
    for n, done in enumerate(outcomes, start=1):
        ratio += math.log(plan.good / plan.poor) if done else math.log((1 - plan.good) / (1 - plan.poor))
        if ratio >= math.log((1 - plan.beta) / plan.alpha) or ratio <= math.log(plan.beta / (1 - plan.alpha)):
            expected = ("mastered" if ratio > 0 else "not_yet", n)
            break
    found = first_decision(outcomes, plan)
    assert (found.answer, found.n) == expected
    assert found.n_success == sum(outcomes[: found.n])


@modest
@given(plans, st.integers(0, 40), st.data())
def test_the_attempts_said_to_settle_it_do_and_one_fewer_does_not(plan, n, data):
    n_success = data.draw(st.integers(0, n))
    settle = to_settle(n, n_success, plan)
    if decide(n, n_success, plan) != "keep_on":
        assert (settle.n_successes, settle.n_failures) == (0, 0)
        return
    up, down = settle.n_successes, settle.n_failures
    assert decide(n + up, n_success + up, plan) == "mastered"
    assert decide(n + down, n_success, plan) == "not_yet"
    assert up == 1 or decide(n + up - 1, n_success + up - 1, plan) == "keep_on"
    assert down == 1 or decide(n + down - 1, n_success, plan) == "keep_on"


@modest
@given(plans)
def test_error_rates_keep_walds_bounds(plan):
    # Wald: actual errors at most alpha / (1 - beta) and beta / (1 - alpha)
    assert course(plan.poor, plan).p_mastered <= plan.alpha / (1 - plan.beta) + 1e-12
    assert course(plan.good, plan).p_not_yet <= plan.beta / (1 - plan.alpha) + 1e-12


@modest
@given(plans, st.floats(0.05, 0.9))
def test_a_better_driver_is_more_often_called_mastered(plan, true_share):
    worse, better = course(true_share, plan, 200), course(true_share + 0.05, plan, 200)
    assert worse.p_mastered <= better.p_mastered + 1e-12
    for found in (worse, better):
        assert found.p_mastered + found.p_not_yet + found.p_undecided == pytest.approx(1)


def test_simulated_drivers_take_the_exact_course():
    draw, plan, n_drivers = random.Random(111), mastery_plan(), 4_000
    exact = course(0.8, plan, at_most=24)
    ends = [first_decision([draw.random() < 0.8 for _ in range(24)], plan) for _ in range(n_drivers)]
    share = sum(end.answer == "mastered" for end in ends) / n_drivers
    assert share == pytest.approx(exact.p_mastered, abs=4 * math.sqrt(0.25 / n_drivers))
    assert sum(end.n for end in ends) / n_drivers == pytest.approx(exact.mean_attempts, abs=0.4)


@of_each("true_share", [0.0, 0.3, 0.6, 0.9])
@of_each("looks", [None, (6, 7, 8), (2, 5), (9,)])
@of_each("at_most", [1, 4, 8])
def test_a_course_is_the_sum_over_every_series_of_outcomes(true_share, looks, at_most):
    plan, mastered, not_yet, mean = mastery_plan(), 0.0, 0.0, 0.0
    for outcomes in product((True, False), repeat=at_most):
        chance = math.prod(true_share if done else 1 - true_share for done in outcomes)
        looked_at = [n for n in range(1, at_most + 1) if looks is None or n in looks]
        answers = {n: decide(n, sum(outcomes[:n]), plan) for n in looked_at}
        end = next((n for n in looked_at if answers[n] != "keep_on"), None)
        mastered += chance * (answers.get(end) == "mastered")
        not_yet += chance * (answers.get(end) == "not_yet")
        mean += chance * (end or at_most)
    found = course(true_share, plan, at_most, looks)
    assert (found.p_mastered, found.p_not_yet) == pytest.approx((mastered, not_yet))
    assert (found.p_undecided, found.mean_attempts) == pytest.approx((1 - mastered - not_yet, mean))


def test_a_coach_who_looks_at_the_table_alone_errs_as_often_as_is_told():
    """Worked out once for the default plan; the sum over every series above is the same sum."""
    at_poor, at_good = (course(share, mastery_plan(), 24, COACH_TRIES) for share in (0.6, 0.9))
    assert (at_poor.p_mastered, at_good.p_not_yet) == pytest.approx((0.0838, 0.0433), abs=5.001e-5)


@of_each("shares", [plan[0] for plan in PLANS])
def test_no_chance_is_below_nought(shares):
    for tenth in range(11):
        assert course(tenth / 10, mastery_plan(*shares), 300).p_undecided >= 0


def test_a_line_met_exactly_takes_no_attempt_more_and_an_open_test_takes_one():
    settle = to_settle(0, 0, mastery_plan(0.2, 0.8, 0.2, 0.2))  # slope, above and below 1/2, by hand
    assert (settle.n_successes, settle.n_failures) == (1, 1)
    settle = to_settle(0, 0, mastery_plan(0.5, 0.8, 0.5, 0.5 - 1e-11))  # above and below all but 0
    assert (settle.n_successes, settle.n_failures) == (1, 1)


def test_certain_drivers_take_the_shortest_course():
    plan = mastery_plan(0.5, 0.8, 0.05, 0.10)
    always, never = course(1, plan), course(0, plan)
    assert (always.p_mastered, always.mean_attempts) == pytest.approx((1, 7))
    assert (never.p_not_yet, never.mean_attempts) == pytest.approx((1, 3))
    assert course(1, plan, at_most=6).p_undecided == 1
    assert course(1, plan, at_most=7).p_mastered == pytest.approx(1)


def test_fifty_thousand_outcomes_are_walked_to_the_end():
    plan = mastery_plan(0.5, 0.8, 0.05, 0.10)
    outcomes, n_success = [], 0
    for n in range(50_000):  # successes that keep beside the slope settle nothing
        outcomes.append(n_success < plan.slope * n)
        n_success += outcomes[-1]
    assert first_decision(outcomes, plan).answer == "keep_on"
    settle = to_settle(50_000, n_success, plan)
    found = first_decision(outcomes + [False] * settle.n_failures, plan)
    assert (found.answer, found.n) == ("not_yet", 50_000 + settle.n_failures)


@of_each(
    ("call", "words"),
    [
        (lambda: mastery_plan(0.8, 0.8 + 0.9e-6), "good must be more than poor, 0.8"),
        (lambda: mastery_plan(0.8, 0.8), "good must be more than poor, 0.8, not 0.8"),
        (lambda: mastery_plan(0, 0.8), "poor must lie strictly between 0 and 1, not 0"),
        (lambda: mastery_plan(alpha=0.6, beta=0.4), "beta must be less than 1 - alpha, .*, not 0.4"),
        (lambda: decide(3, 4, mastery_plan()), "n_success must be from 0 to 3, not 4"),
        (lambda: coach_row(0, mastery_plan()), "n must be at least 1, not 0"),
        (lambda: course(1.1, mastery_plan()), "true_share must be .*, not 1.1"),
        (lambda: course(0.5, mastery_plan(), 0), "at_most must be from 1 to 5000, not 0"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()


def test_shares_a_millionth_apart_are_two():
    assert mastery_plan(0.8, 0.8 + 1.05e-6).slope == pytest.approx(0.8, abs=1e-5)
