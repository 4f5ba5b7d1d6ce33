"""Sizes of a trial: held against scipy and statsmodels, and against figures worked out with them."""

import pytest
from scipy.stats import binom
from statsmodels.stats.proportion import confint_proportions_2indep

from docgen.evidence.trial_size import (
    MOST_ATTEMPTS,
    Visit,
    attempts_a_block,
    chance_of_telling,
    fewest_attempts,
    minutes_for,
    most_clearly_lower,
    most_unseen,
)

# exact power of the Newcombe rule at 5, 8, 10, 16, 20, 30, 40 each, and the first number that keeps 80 %
TABLE = {
    (0.9, 0.3): (8, (0.562, 0.805, 0.824, 0.966, 0.990, 1.0, 1.0)),
    (0.9, 0.4): (13, (0.434, 0.634, 0.659, 0.878, 0.951, 0.993, 0.999)),
    (0.9, 0.5): (19, (0.308, 0.436, 0.471, 0.713, 0.837, 0.949, 0.986)),
    (0.9, 0.6): (31, (0.192, 0.249, 0.291, 0.496, 0.619, 0.794, 0.901)),
    (0.9, 0.7): (61, (0.099, 0.108, 0.143, 0.277, 0.341, 0.487, 0.631)),
    (0.8, 0.2): (10, (0.510, 0.798, 0.805, 0.959, 0.982, 0.999, 1.0)),
    (0.8, 0.4): (23, (0.272, 0.447, 0.425, 0.652, 0.753, 0.905, 0.968)),
    (0.8, 0.5): (39, (0.185, 0.277, 0.254, 0.414, 0.531, 0.692, 0.817)),
    (0.95, 0.75): (48, (0.081, 0.083, 0.141, 0.336, 0.376, 0.571, 0.747)),
}


@pytest.mark.parametrize("shares", TABLE)
def test_power_and_the_fewest_attempts_are_as_worked_out(shares):
    fewest, powers = TABLE[shares]
    assert fewest_attempts(*shares) == fewest
    worked = [round(chance_of_telling(*shares, n), 3) for n in (5, 8, 10, 16, 20, 30, 40)]
    assert worked == pytest.approx(powers, abs=0.0011)
    assert chance_of_telling(*shares[::-1], 16) == pytest.approx(chance_of_telling(*shares, 16))


@pytest.mark.parametrize(("p_1", "p_2", "n"), [(0.7, 0.4, 7), (1, 0.5, 6), (0.3, 0.3, 8), (0, 1, 4), (1, 1, 5)])
def test_power_is_the_sum_that_scipy_and_statsmodels_give(p_1, p_2, n):
    total = 0.0
    for first in range(n + 1):
        for second in range(n + 1):
            low, high = confint_proportions_2indep(first, n, second, n, compare="diff", method="newcomb")
            if low > 0 or high < 0:
                total += binom.pmf(first, n, p_1) * binom.pmf(second, n, p_2)
    assert chance_of_telling(p_1, p_2, n) == pytest.approx(total, abs=1e-9)


def test_the_level_counts_and_more_attempts_need_not_tell_more():
    assert chance_of_telling(0.8, 0.4, 10, level=0.8) > 0.6 > chance_of_telling(0.8, 0.4, 10)
    assert chance_of_telling(0.8, 0.4, 8) > chance_of_telling(0.8, 0.4, 10)


def test_what_seventy_attempts_do_not_tell_has_no_number():
    assert fewest_attempts(0.8, 0.75) is None
    assert fewest_attempts(0.9, 0.3, power=0.5) == 5
    assert fewest_attempts(1, 0) == 2
    assert fewest_attempts(0.9, 0.3, power=chance_of_telling(0.9, 0.3, 5)) == 5
    assert MOST_ATTEMPTS == 70 and chance_of_telling(1, 0, 70) == 1
    assert chance_of_telling(1, 0, 1) == 0


# largest number clearly lower, of as many attempts
@pytest.mark.parametrize(
    ("n", "pairs"),
    [
        (5, {5: 2, 4: 0, 3: 0, 2: None}),
        (8, {8: 4, 7: 3, 6: 2}),
        (10, {10: 6, 9: 4, 8: 3, 7: 2}),
        (16, {16: 12, 15: 10, 14: 8}),
        (20, {20: 15, 19: 14, 18: 12, 17: 11, 16: 10}),
    ],
)
def test_what_is_clearly_lower_is_as_worked_out(n, pairs):
    assert {done: most_clearly_lower(done, n) for done in pairs} == pairs
    assert most_clearly_lower(0, n) is None


# minutes of a change, of an attempt -> attempts a block with 2, 3 and 4 blocks in 45 minutes
@pytest.mark.parametrize(
    ("change", "attempt", "blocks"), [(5, 2, (7, 3, 1)), (5, 1.5, (9, 4, 2)), (1, 2, (8, 4, 3)), (1, 1.5, (10, 6, 4))]
)
def test_a_visit_holds_what_its_minutes_leave(change, attempt, blocks):
    visit = Visit(change=change, attempt=attempt)
    assert tuple(attempts_a_block(visit, n) for n in (2, 3, 4)) == blocks


def test_each_minute_of_a_visit_counts():
    assert attempts_a_block(Visit(), 1) == 17  # 45 - 8 - 2, by 2
    assert attempts_a_block(Visit(length=60), 2) == 10
    assert attempts_a_block(Visit(fixed=0), 2) == 9
    assert attempts_a_block(Visit(warm_up=0), 2) == 8
    assert attempts_a_block(Visit(length=10), 2) == 0
    assert attempts_a_block(Visit(attempt=0.75), 2) == 18
    assert attempts_a_block(Visit(attempt=0.5), 2) == 20 == attempts_a_block(Visit(length=240, attempt=0.5), 2)
    assert most_clearly_lower(1, 1) is None


def test_what_no_attempt_showed_may_still_happen():
    known = {5: 0.4507, 8: 0.3123, 10: 0.2589, 16: 0.1707, 20: 0.1391, 30: 0.0950, 40: 0.0722}
    assert {n: round(most_unseen(n), 4) for n in known} == known
    assert binom.pmf(0, 14, most_unseen(14)) == pytest.approx(0.05)
    assert most_unseen(14, level=0.9) < most_unseen(14)
    assert most_unseen(1) == pytest.approx(0.95)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: chance_of_telling(1.1, 0.5, 8), "share_1"),
        (lambda: chance_of_telling(0.5, -0.1, 8), "share_2"),
        (lambda: chance_of_telling(0.5, 1.1, 8), "share_2"),
        (lambda: chance_of_telling(0.5, 0.6, 0), "n"),
        (lambda: chance_of_telling(0.5, 0.6, MOST_ATTEMPTS + 1), "n"),
        (lambda: chance_of_telling(0.5, 0.6, 8, level=1), "level"),
        (lambda: fewest_attempts(0.5, 0.6, power=0), "power"),
        (lambda: most_clearly_lower(3, 2), "n_success"),
        (lambda: most_clearly_lower(0, 0), "n"),
        (lambda: attempts_a_block(Visit(), 0), "n_blocks"),
        (lambda: attempts_a_block(Visit(attempt=0), 2), "attempt"),
        (lambda: most_unseen(0), "n"),
        (lambda: most_unseen(5, level=1), "level"),
    ],
)
def test_what_there_cannot_be_is_refused_by_name(call, name):
    with pytest.raises(ValueError, match=name):
        call()


def test_relief_and_slack_are_added_to_the_minutes_of_a_visit():
    """By hand, beside 45 minutes for two blocks of seven attempts."""
    assert [minutes_for(visit, 2, 7) for visit in (Visit(), Visit(relief=6), Visit(slack=4))] == [45, 51, 49]


def test_a_visit_as_long_as_its_attempts_need_holds_just_them():
    for n_blocks, n_block in ((1, 9), (2, 5), (3, 7)):
        visit = Visit(change=12, relief=6, slack=4)
        minutes = minutes_for(visit, n_blocks, n_block)
        assert attempts_a_block(Visit(minutes, change=12, relief=6, slack=4), n_blocks) == n_block
        assert attempts_a_block(Visit(minutes - 1, change=12, relief=6, slack=4), n_blocks) == n_block - 1
