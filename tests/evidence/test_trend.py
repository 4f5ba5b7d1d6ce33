"""Trend: Kendall's S, slopes and overlap, against published data, libraries and enumeration."""

from __future__ import annotations

import math
import random
import statistics
from itertools import permutations

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from docgen.evidence.kendall import concordance, kendall_test, orders_by_inversions
from docgen.evidence.trend import overlap, theil_sen

modest = settings(max_examples=60, deadline=None, derandomize=True)
values = st.lists(st.integers(0, 12), min_size=2, max_size=30)
phase = st.lists(st.integers(0, 12), min_size=1, max_size=20)

HOLLANDER = [1.26, 1.27, 1.12, 1.16, 1.03]  # Hollander, Wolfe and Chicken, ex. 9.1, over 1 to 5
EIGHT = [22, 30, 25, 41, 38, 47, 52, 50]


@pytest.mark.parametrize(
    ("n", "table"),
    [
        # P(S >= s) without ties, Kendall 1975 and Gilbert 1987 Table A18, from memory; full enumeration
        (4, {0: 0.625, 2: 0.375, 4: 0.167, 6: 0.0417}),
        (5, {0: 0.592, 2: 0.408, 4: 0.242, 6: 0.117, 8: 0.0417, 10: 0.00833}),
        (6, {1: 0.5, 3: 0.360, 5: 0.235, 7: 0.136, 9: 0.0681, 11: 0.0278, 13: 0.00833, 15: 0.00139}),
        (
            8,
            {
                0: 0.548,
                4: 0.360,
                8: 0.199,
                10: 0.138,
                12: 0.0894,
                14: 0.0543,
                16: 0.0305,
                18: 0.0156,
                20: 0.00707,
                22: 0.00275,
            },
        ),
        (
            10,
            {
                1: 0.5,
                9: 0.242,
                15: 0.108,
                19: 0.0542,
                21: 0.0363,
                23: 0.0233,
                25: 0.0143,
                27: 0.00833,
                31: 0.00234,
                45: 2.76e-7,
            },
        ),
    ],
)
def test_the_table_of_kendalls_s_is_met(n, table):
    orders = orders_by_inversions([1] * n)
    assert orders[-1] == math.factorial(n)
    for s, tail in table.items():
        assert f"{orders[(math.comb(n, 2) - s) // 2] / orders[-1]:.3g}" == f"{tail:.3g}"


@pytest.mark.parametrize(
    ("series", "s", "tau", "two_sided", "upper"),
    [
        (HOLLANDER, -6, -0.6, 0.233333, None),  # recomputed with scipy
        ([10, 15, 14, 20], 4, 4 / 6, None, 1 / 6),  # Gilbert 1987 sec. 16.4, from memory
        (EIGHT, 22, 0.785714, None, 0.00275298),  # recomputed with scipy
    ],
)
def test_worked_trend_tests_are_met(series, s, tau, two_sided, upper):
    found = kendall_test(range(len(series)), series)
    assert (found.s, found.exact) == (s, True)
    assert found.tau_b == pytest.approx(tau, abs=5e-7)
    assert two_sided is None or found.p_two_sided == pytest.approx(two_sided, abs=5e-7)
    assert upper is None or found.p_upper == pytest.approx(upper, abs=5e-8)


def test_the_normal_score_has_its_published_variance_and_correction():
    # n (n-1) (2n+5) / 18
    assert kendall_test(range(4), [10, 15, 14, 20]).var_s == pytest.approx(8.6667, abs=5e-5)
    assert kendall_test(range(4), [2, 4, 1, 3]).z == 0
    assert kendall_test(range(4), [2, 1, 3, 4]).z > 0
    assert kendall_test(range(5), HOLLANDER).z == pytest.approx(-1.224745, abs=5e-7)  # a trend-test library


def test_ties_in_both_series_as_published():
    # Kendall 1970, ex. 3.1
    x, y = [1, 2.5, 2.5, 4.5, 4.5, 6.5, 6.5, 8, 9.5, 9.5], [1, 2, 4.5, 4.5, 4.5, 4.5, 8, 8, 8, 10]
    found = kendall_test(x, y)
    assert (found.s, found.exact) == (33, False)
    assert found.tau_b == pytest.approx(33 / math.sqrt(41 * 36)) == pytest.approx(0.859, abs=5e-4)


def test_exact_p_values_agree_with_scipy_without_ties():
    draw = random.Random(101)
    for _ in range(100):
        y = draw.sample(range(1000), draw.randint(2, 40))
        theirs = stats.kendalltau(range(len(y)), y, method="exact")
        found = kendall_test(range(len(y)), y)
        assert found.p_two_sided == pytest.approx(theirs.pvalue, abs=1e-9)
        assert found.tau_b == pytest.approx(theirs.statistic, abs=1e-12)


def test_exact_p_values_with_ties_in_one_series_are_those_of_all_orders():
    draw = random.Random(102)
    for _ in range(12):
        y = [draw.randint(0, 3) for _ in range(draw.randint(3, 6))]
        n, s = len(y), concordance(range(len(y)), y)
        every = [concordance(range(n), order) for order in permutations(y)]
        found = kendall_test(range(n), y)
        assert found.exact
        assert found.p_upper == pytest.approx(sum(other >= s for other in every) / len(every))
        assert found.var_s == pytest.approx(statistics.pvariance(every))


def test_the_variance_with_ties_in_both_series_is_that_of_all_orders():
    x, y = [1, 1, 2, 2, 2, 3, 4], [5, 5, 5, 6, 7, 7, 8]
    every = [concordance(x, order) for order in permutations(y)]
    assert kendall_test(x, y).var_s == pytest.approx(statistics.pvariance(every))
    assert kendall_test(x, y).p_two_sided is None  # fewer than 10 values with ties in both


def test_normal_p_values_agree_with_scipy_apart_from_the_continuity_correction():
    draw = random.Random(103)
    for _ in range(50):
        n = draw.randint(61, 200)
        x, y = [draw.randint(0, 20) for _ in range(n)], [draw.randint(0, 20) for _ in range(n)]
        found, theirs = kendall_test(x, y), stats.kendalltau(x, y, method="asymptotic")
        assert found.tau_b == pytest.approx(theirs.statistic, abs=1e-12)
        uncorrected = 2 * stats.norm.sf(abs(found.s) / math.sqrt(found.var_s))
        assert uncorrected == pytest.approx(theirs.pvalue, abs=1e-9)
        root = math.sqrt(found.var_s)
        corrected = 2 * stats.norm.sf((abs(found.s) - 1) / root)
        assert found.p_two_sided == pytest.approx(min(1, corrected), abs=1e-9)
        assert found.p_upper == pytest.approx(stats.norm.sf((found.s - 1) / root), abs=1e-9)


@modest
@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), min_size=2, max_size=40))
def test_s_is_the_count_over_all_pairs(pairs):
    x, y = zip(*pairs, strict=True)
    counted = sum(
        ((x[i] > x[j]) - (x[i] < x[j])) * ((y[i] > y[j]) - (y[i] < y[j])) for i in range(len(x)) for j in range(i)
    )
    assert concordance(x, y) == counted == concordance(y, x) == -concordance(x, [-v for v in y])


def test_a_series_that_does_not_vary_has_no_trend_and_no_tau():
    found = kendall_test(range(8), [3] * 8)
    assert (found.s, found.tau_b, found.z, found.p_two_sided) == (0, None, None, 1)


def test_two_phases_are_a_series_with_ties():
    # all ten values in order, five in each phase: 2 / C(10, 5), by hand
    assert kendall_test([0] * 5 + [1] * 5, range(10)).p_two_sided == pytest.approx(2 / math.comb(10, 5))
    draw = random.Random(104)
    for _ in range(50):
        m, n = draw.randint(1, 12), draw.randint(1, 12)
        drawn = draw.sample(range(1000), m + n)
        theirs = stats.mannwhitneyu(drawn[:m], drawn[m:], method="exact").pvalue
        assert kendall_test([0] * m + [1] * n, drawn).p_two_sided == pytest.approx(theirs, abs=1e-9)


# ---- slopes


@pytest.mark.parametrize(
    ("series", "slope", "intercept"),
    [
        (HOLLANDER, -0.05625, 1.32875),  # data of Hollander, Wolfe and Chicken, ex. 9.1; recomputed with scipy
        (EIGHT, 4.325, None),  # recomputed with scipy
    ],
)
def test_worked_slopes_are_met(series, slope, intercept):
    found = theil_sen(range(1, len(series) + 1), series)
    assert found.slope == pytest.approx(slope)
    assert intercept is None or found.intercept == pytest.approx(intercept)


def test_the_interval_of_a_slope_uses_the_exact_count():
    at_95, at_90 = theil_sen(range(1, 6), HOLLANDER), theil_sen(range(1, 6), HOLLANDER, 0.90)
    # ordered slopes -.15, -.13, ... .01, .04; P(S >= 10) = .00833 and P(S >= 8) = .0417, Kendall's table
    assert (at_95.low, at_95.high) == pytest.approx((-0.15, 0.04))
    assert (at_90.low, at_90.high) == pytest.approx((-0.13, 0.01))
    assert (at_95.coverage, at_90.coverage) == pytest.approx((1 - 2 / 120, 1 - 10 / 120))


def test_a_level_that_an_exact_count_just_reaches_takes_the_narrower_interval():
    # 5 of the 120 orders have at most one pair out of order (Kendall's table): 1 - 10 / 120 = 0.91667
    assert theil_sen(range(1, 6), HOLLANDER, 0.9166).low == pytest.approx(-0.13)
    assert theil_sen(range(1, 6), HOLLANDER, 0.9167).low == pytest.approx(-0.15)
    slopes = sorted((b - a) / (j - i) for i, a in enumerate(HOLLANDER) for j, b in enumerate(HOLLANDER) if i < j)
    narrow = theil_sen(range(1, 6), HOLLANDER, 0.1)  # 49 of 120 have at most four out of order, 71 at most five
    assert (narrow.low, narrow.high) == pytest.approx((slopes[4], slopes[5]))
    assert narrow.coverage == pytest.approx(1 - 98 / 120)


def test_the_exact_count_ends_at_sixty_points_and_limits_with_ties_begin_at_ten():
    assert theil_sen(range(60), [t**2 for t in range(60)]).exact
    assert not theil_sen(range(61), [t**2 for t in range(61)]).exact
    tied = [0, 1, 1, 2, 3, 4, 4, 5, 6, 7]
    assert theil_sen(range(10), tied).low is not None and theil_sen(range(9), tied[:9]).low is None


def test_slopes_agree_with_scipy():
    draw = random.Random(105)
    for _ in range(60):
        n = draw.randint(3, 120)
        x, y = draw.sample(range(500), n), [draw.gauss(0, 1) for _ in range(n)]
        found, theirs = theil_sen(x, y), stats.theilslopes(y, x)
        assert found.slope == pytest.approx(theirs.slope, abs=1e-12)
        assert found.intercept == pytest.approx(theirs.intercept, abs=1e-9)
        if n > 60:  # both normal there; ours rounds the rank outwards
            assert found.low <= theirs.low_slope + 1e-12 and found.high >= theirs.high_slope - 1e-12
            narrower = theil_sen(x, y, 0.94)
            assert narrower.low >= theirs.low_slope - 1e-12 and narrower.high <= theirs.high_slope + 1e-12


@pytest.mark.parametrize(("n", "n_runs"), [(6, 600), (20, 400)])
def test_the_interval_contains_the_true_slope_as_often_as_it_says(n, n_runs):
    draw = random.Random(106)
    n_inside, coverage = 0, 0.0
    for _ in range(n_runs):
        found = theil_sen(range(n), [0.5 * t + draw.expovariate(1) for t in range(n)])
        n_inside += found.low <= 0.5 <= found.high
        coverage = found.coverage
    assert coverage >= 0.95
    assert abs(n_inside / n_runs - coverage) < 4 * math.sqrt(coverage * (1 - coverage) / n_runs)


def test_too_few_points_give_a_slope_without_limits():
    found = theil_sen([1, 2, 3, 4], [1, 3, 2, 5])
    assert found.slope > 0 and (found.low, found.high, found.coverage) == (None, None, None)
    assert theil_sen([1, 3], [2, 8]).slope == 3
    assert theil_sen([1, 1, 2, 2, 3], [0, 1, 1, 1, 0]).low is None
    assert theil_sen([1] * 10 + [2], [0, 1, 1, 2, 3, 4, 4, 5, 6, 7, 8]).low is None


def test_fifty_thousand_points_use_the_stated_rule_and_find_the_slope():
    draw = random.Random(107)
    n = 50_000
    y = [0.001 * t + draw.gauss(0, 5) for t in range(n)]
    found = theil_sen(range(n), y)
    half = n // 2
    by_hand = statistics.median((y[i + half] - y[i]) / half for i in range(half))
    assert (found.method, found.slope) == ("half_pairs", pytest.approx(by_hand))
    assert found.intercept == pytest.approx(statistics.median(y) - by_hand * (n - 1) / 2)
    assert found.low < 0.001 < found.high and found.high - found.low < 2e-5
    assert found.exact and found.coverage >= 0.95
    assert theil_sen(range(1000), y[:1000]).method == "all_pairs"
    assert theil_sen(range(1001), y[:1001]).method == "half_pairs"


@modest
@given(values, st.integers(1, 5), st.integers(-5, 5))
def test_a_slope_follows_the_units_and_turns_with_the_sign(y, scale, tilt):
    x = range(len(y))
    here = theil_sen(x, y)
    moved = theil_sen(x, [scale * v + tilt * t for t, v in zip(x, y, strict=True)])
    mirrored = theil_sen(x, [-v for v in y])
    assert moved.slope == pytest.approx(scale * here.slope + tilt, abs=1e-9)
    assert mirrored.slope == pytest.approx(-here.slope, abs=1e-12)
    if here.low is not None:
        assert here.low <= here.slope <= here.high
        assert (mirrored.low, mirrored.high) == pytest.approx((-here.high, -here.low), abs=1e-12)


# ---- overlap of two phases

A7, B7 = [20, 20, 26, 25, 22, 23], [28, 25, 24, 27, 30, 30, 29]
FALLING_A = [33, 25, 17, 25, 19, 21, 19, 14, 19, 17]
FALLING_B = [14, 15, 15, 9, 12, 7, 10, 6, 5, 2, 2, 3, 5, 4]


@pytest.mark.parametrize(
    ("first", "second", "higher", "nap", "tau", "tau_u"),
    [
        # Parker, Vannest and Davis 2011, Behav Modif 35:303-322; Tau-U by hand from S 35 and 4
        (A7, B7, True, 38.5 / 42, 35 / 42, 31 / 42),
        ([3, 3, 4, 5], [4, 5, 6, 7, 7], True, 0.90, 16 / 20, 11 / 20),  # test data of a single-case package
        (range(1, 6), range(6, 11), True, 1, 1, 0.6),  # Tarlow 2017, Behav Modif 41:427-467: one straight line
        (FALLING_A, FALLING_B, False, 137.5 / 140, 135 / 140, None),  # test data of a single-case package
    ],
)
def test_published_overlaps_are_met(first, second, higher, nap, tau, tau_u):
    found = overlap(first, second, higher)
    assert (found.nap, found.tau) == pytest.approx((nap, tau))
    assert tau_u is None or found.tau_u == pytest.approx(tau_u)


def test_the_null_standard_error_and_the_rank_test_of_the_published_data():
    # sqrt((1/6 + 1/7 + 1/42) / 12), by hand
    assert overlap(A7, B7).nap_se == pytest.approx(0.166667, abs=5e-7)
    found = kendall_test([0] * 6 + [1] * 7, A7 + B7)
    assert found.s == 35
    # tie-corrected normal p of the Mann-Whitney test without continuity correction, 0.0121, recomputed with
    # scipy
    assert 2 * stats.norm.sf(35 / math.sqrt(found.var_s)) == pytest.approx(0.0121, abs=5e-5)


@modest
@given(phase, phase)
def test_overlap_counts_pairs_and_turns_round_with_the_direction(first, second):
    here, turned = overlap(first, second), overlap(first, second, higher_is_better=False)
    assert here.n_better == sum(b > a for a in first for b in second)
    assert here.n_worse == sum(b < a for a in first for b in second)
    assert here.n_better + here.n_tied + here.n_worse == len(first) * len(second)
    assert here.nap == pytest.approx(1 - turned.nap) and here.tau_u == pytest.approx(-turned.tau_u)
    assert here.tau == pytest.approx(2 * here.nap - 1)
    s_first = sum((b > a) - (b < a) for i, a in enumerate(first) for b in first[i + 1 :])
    assert here.tau_u == pytest.approx((here.n_better - here.n_worse - s_first) / (len(first) * len(second)))


@of_each(
    ("call", "words"),
    [
        (lambda: kendall_test([1, 2], [1]), "x and y must hold as many values each, at least 2, not 2 and 1"),
        (lambda: kendall_test([1, 2], [1, 2, 3]), "x and y must hold as many values each, .* not 2 and 3"),
        (lambda: theil_sen([1], [2]), "x and y must hold as many values each, at least 2, not 1 and 1"),
        (lambda: theil_sen([3, 3], [1, 2]), "x must not all be the same, not 3.0 to 3.0"),
        (lambda: theil_sen([1, 2], [1, math.inf]), r"y\[1\] must be .*, not inf"),
        (lambda: overlap([], [1]), "first must hold at least one value"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
