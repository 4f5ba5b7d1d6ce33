"""Medians and ratios of times: published ranks, general libraries, properties."""

from __future__ import annotations

import math
import random

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from docgen.evidence.time import median_interval, ratio_of_geometric_means

modest = settings(max_examples=60, deadline=None, derandomize=True)
times = st.lists(st.floats(0.05, 60), min_size=2, max_size=40)


@of_each(
    ("n", "rank", "coverage"),
    [
        # binomial tables: places from each end, and the confidence they really give
        (6, 1, 0.96875),
        (7, 1, 0.984375),
        (8, 1, 0.9921875),
        (9, 2, 0.9609375),
        (10, 2, 0.978515625),
        (12, 3, 0.96142578125),
        (15, 4, 0.96484375),
        (20, 6, 0.95861053466796875),
    ],
)
def test_the_ranks_of_the_median_are_the_tabled_ones(n, rank, coverage):
    values = [v * 1.0 for v in range(n, 0, -1)]
    found = median_interval(values)
    assert (found.rank, found.low, found.high) == (rank, rank, n + 1 - rank)
    assert found.coverage == pytest.approx(coverage, abs=1e-12)


def test_five_values_cannot_bound_their_median_at_95_percent():
    found = median_interval([3, 1, 2, 5, 4])
    assert (found.median, found.low, found.high, found.coverage) == (3, None, None, None)
    assert median_interval([3, 1, 2, 5, 4], 0.9).low == 1
    assert median_interval([7]).median == 7


def test_the_rank_is_the_largest_that_scipy_allows():
    draw = random.Random(51)
    for _ in range(200):
        n, level = draw.randint(1, 3000), draw.choice([0.9, 0.95, 0.99])
        largest = int(stats.binom.ppf((1 - level) / 2, n, 0.5))
        largest += stats.binom.cdf(largest, n, 0.5) <= (1 - level) / 2
        assert (median_interval([0.0] * n, level).rank or 0) == largest


@modest
@given(times, st.floats(0.5, 0.99))
def test_the_interval_contains_the_median_and_keeps_its_level(values, level):
    found = median_interval(values, level)
    if found.low is not None:
        assert found.low <= found.median <= found.high
        assert found.coverage >= level
    assert median_interval(list(reversed(values)), level) == found


def test_ratios_agree_with_scipy_within_1e9_on_many_pairs_of_samples():
    draw = random.Random(52)
    for _ in range(300):
        one = [draw.lognormvariate(0, draw.uniform(0.1, 1)) for _ in range(draw.randint(2, 25))]
        two = [draw.lognormvariate(0.5, draw.uniform(0.1, 1)) for _ in range(draw.randint(2, 25))]
        level = draw.choice([0.9, 0.95, 0.99])
        found = ratio_of_geometric_means(one, two, level)
        test = stats.ttest_ind([math.log(v) for v in one], [math.log(v) for v in two], equal_var=False)
        theirs = test.confidence_interval(level)
        assert found.df == pytest.approx(test.df, rel=1e-9)
        if found.low is None:
            assert theirs.high - theirs.low > 100
            continue
        assert (math.log(found.low), math.log(found.high)) == pytest.approx((theirs.low, theirs.high), abs=1e-9)


def test_the_ratio_of_geometric_means_is_the_one_by_hand():
    found = ratio_of_geometric_means([1, 10], [1, 1, 100])
    assert found.ratio == pytest.approx(10 ** (1 / 2 - 2 / 3))
    assert found == ratio_of_geometric_means([1, 10], [1, 1, 100], 0.95)


@modest
@given(times, times, st.floats(0.01, 100))
def test_swapping_inverts_the_ratio_and_the_unit_does_not_matter(one, two, unit):
    there, back = ratio_of_geometric_means(one, two), ratio_of_geometric_means(two, one)
    scaled = ratio_of_geometric_means([unit * v for v in one], [unit * v for v in two])
    assert there.ratio == pytest.approx(1 / back.ratio) == pytest.approx(scaled.ratio)
    if there.low is not None:
        assert there.low <= there.ratio <= there.high
        assert there.low == pytest.approx(1 / back.high)


@pytest.mark.parametrize(
    ("one", "two", "why"),
    [
        ([0.5], [0.4, 0.6], "fewer than 2 times with one of the methods"),
        ([0.3, 0.3, 0.3], [0.4, 0.4], "all times of each method are the same"),
    ],
)
def test_times_without_spread_have_a_ratio_but_no_interval(one, two, why):
    found = ratio_of_geometric_means(one, two)
    assert found.ratio > 0
    assert (found.low, found.high, found.why) == (None, None, why)


@pytest.mark.parametrize("scale, told", [(0.998, True), (1.002, False)])
def test_an_interval_wider_than_fifty_powers_of_e_is_no_bound(scale, told):
    one, two = [0.0, 1.0], [0.0, 0.5, 0.2]
    theirs = stats.ttest_ind(one, two, equal_var=False).confidence_interval(0.95)
    stretch = scale * 50 / ((theirs.high - theirs.low) / 2)
    found = ratio_of_geometric_means(*([math.exp(stretch * log) for log in logs] for logs in (one, two)))
    assert (found.low is not None) is told


def test_times_too_scattered_to_bound_a_ratio_say_so():
    found = ratio_of_geometric_means([1e-9, 1e9], [1, 1.1])
    assert (found.low, found.why) == (None, "times too few and scattered to bound the ratio")


@of_each(
    ("call", "words"),
    [
        (lambda: median_interval([]), "values must hold at least one value"),
        (lambda: median_interval([1, math.nan]), r"values\[1\] must be a number, not nan"),
        (lambda: median_interval([1, -math.inf]), r"values\[1\] must be .*, not -inf"),
        (lambda: median_interval([1, 2], 0), "level must lie strictly between 0 and 1, not 0"),
        (lambda: ratio_of_geometric_means([1, 0], [1, 2]), r"first\[1\] must be more than 0 .*, not 0"),
        (lambda: ratio_of_geometric_means([1, 2], []), "second must hold at least one time"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
