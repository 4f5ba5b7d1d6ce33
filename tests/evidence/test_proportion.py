"""One proportion: published limits, agreement with general libraries, and what every interval must do."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from docgen.evidence.proportion import clopper_pearson_interval, upper_after_none, wilson_interval

modest = settings(max_examples=60, deadline=None, derandomize=True)
tallies = st.integers(1, 3_000).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))
levels = st.floats(0.5, 0.999)
intervals = pytest.mark.parametrize("interval", [wilson_interval, clopper_pearson_interval])


@pytest.mark.parametrize(
    ("k", "n", "wilson", "exact"),
    [
        (81, 263, (0.2553, 0.3662), (0.2527, 0.3676)),  # Newcombe 1998, Stat Med 17:857-872, Table I
        (15, 148, (0.0624, 0.1605), (0.0578, 0.1617)),  # the same
        (0, 20, (0.0000, 0.1611), (0.0000, 0.1684)),  # the same
        (1, 29, (0.0061, 0.1718), (0.0009, 0.1776)),  # the same
        (0, 10, (0.0000, 0.2775), (0.0000, 0.3085)),  # exact: Fagerland, Lydersen and Laake 2017
        (10, 10, (0.7225, 1.0000), (0.6915, 1.0000)),  # the same
        (13, 16, (0.569911, 0.934084), (0.5435, 0.9595)),  # the same
        # this and below: recomputed with scipy and statsmodels
        (5, 10, (0.236593, 0.763407), (0.187086, 0.812914)),
        (8, 10, (0.490162, 0.943318), (0.443905, 0.974789)),
        (9, 10, (0.595850, 0.982124), (0.554984, 0.997471)),
        (3, 4, (0.300642, 0.954413), (0.194120, 0.993691)),
        (47, 50, (0.837829, 0.979385), (0.834518, 0.987451)),
    ],
)
def test_published_limits_are_met(k, n, wilson, exact):
    for interval, published in ((wilson_interval(k, n), wilson), (clopper_pearson_interval(k, n), exact)):
        assert (interval.low, interval.high) == pytest.approx(published, abs=5.001e-5)


@pytest.mark.parametrize(
    ("n", "exact"),
    [
        # 1 - 0.05^(1/n), by hand; 3/n is the rule of three of Hanley and Lippman-Hand 1983
        (10, 0.258866),
        (20, 0.139108),
        (30, 0.095034),
        (50, 0.058155),
        (100, 0.029513),
        (300, 0.009936),
    ],
)
def test_the_rule_of_three_is_an_upper_bound_close_to_the_exact_one_from_30_on(n, exact):
    assert upper_after_none(n) == pytest.approx(exact, abs=5e-7)
    assert upper_after_none(n) < 3 / n
    if n >= 30:
        assert 3 / n < 1.06 * upper_after_none(n)


def test_the_two_sided_limit_after_none_is_higher_than_the_one_sided_one():
    # exact two-sided upper limits for none of n, recomputed with scipy
    for n, two_sided in ((10, 0.308497), (20, 0.168433), (30, 0.115703), (100, 0.036217), (300, 0.012221)):
        assert clopper_pearson_interval(0, n).high == pytest.approx(two_sided, abs=5e-7)
        assert upper_after_none(n) < two_sided


def test_limits_agree_with_general_libraries_within_1e9_on_a_thousand_tables():
    draw = random.Random(11)
    for _ in range(1000):
        n = draw.choice([draw.randint(1, 30), draw.randint(1, 400), draw.randint(1, 50_000)])
        k = draw.choice([0, n, draw.randint(0, n)])
        level = draw.choice([0.9, 0.95, 0.99, draw.uniform(0.5, 0.999)])
        wilson, exact = wilson_interval(k, n, level), clopper_pearson_interval(k, n, level)
        assert (wilson.low, wilson.high) == pytest.approx(
            proportion_confint(k, n, 1 - level, method="wilson"), abs=1e-9
        )
        assert (exact.low, exact.high) == pytest.approx(proportion_confint(k, n, 1 - level, method="beta"), abs=1e-9)


def test_limits_agree_with_a_second_library():
    for k, n in ((0, 7), (3, 7), (7, 7), (81, 263)):
        for method, interval in (("wilson", wilson_interval), ("exact", clopper_pearson_interval)):
            theirs = stats.binomtest(k, n).proportion_ci(method=method)
            assert (interval(k, n).low, interval(k, n).high) == pytest.approx((theirs.low, theirs.high), abs=1e-9)


@intervals
@modest
@given(tallies, levels)
def test_an_interval_contains_its_estimate_and_stays_between_0_and_1(interval, tally, level):
    found = interval(*tally, level)
    assert 0 <= found.low <= found.share <= found.high <= 1
    assert (found.low == 0) == (tally[0] == 0)
    assert (found.high == 1) == (tally[0] == tally[1])


@intervals
@pytest.mark.parametrize("level", [0.001, 0.5, 0.9, 0.95, 0.999])
def test_no_success_gives_exactly_nought_and_no_failure_exactly_one(interval, level):
    for n in (*range(1, 60), 1_000, 50_000):
        assert interval(0, n, level).low == 0 and interval(n, n, level).high == 1


@intervals
@modest
@given(tallies, levels)
def test_failures_mirror_successes(interval, tally, level):
    k, n = tally
    there, back = interval(k, n, level), interval(n - k, n, level)
    assert (there.low, there.high) == pytest.approx((1 - back.high, 1 - back.low), abs=1e-12)


@intervals
@modest
@given(tallies, st.integers(2, 20))
def test_more_attempts_at_the_same_share_narrow_the_interval(interval, tally, times):
    few, many = interval(*tally), interval(tally[0] * times, tally[1] * times)
    assert many.high - many.low < few.high - few.low


@intervals
@modest
@given(tallies, levels)
def test_one_more_success_raises_both_limits(interval, tally, level):
    k, n = tally
    lower, higher = interval(k, n + 1, level), interval(k + 1, n + 1, level)
    assert lower.low < higher.low and lower.high < higher.high


@intervals
@modest
@given(tallies, levels)
def test_more_confidence_widens_the_interval(interval, tally, level):
    sure, surer = interval(*tally, level), interval(*tally, (1 + level) / 2)
    assert surer.low <= sure.low and sure.high <= surer.high


@modest
@given(tallies)
def test_the_exact_interval_never_gives_less_than_the_stated_confidence(tally):
    k, n = tally
    found = clopper_pearson_interval(k, n)
    assert k == 0 or stats.binom.sf(k - 1, n, found.low) <= 0.025 + 1e-9
    assert k == n or stats.binom.cdf(k, n, found.high) <= 0.025 + 1e-9


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: wilson_interval(0, 0), "n must be at least 1, not 0"),
        (lambda: wilson_interval(5, 4), "n_success must be from 0 to 4, not 5"),
        (lambda: wilson_interval(-1, 4), "n_success must be from 0 to 4, not -1"),
        (lambda: wilson_interval(True, 4), "n_success must be a whole number, not True"),
        (lambda: wilson_interval(1, 4, 1.0), "level must lie strictly between 0 and 1, not 1.0"),
        (lambda: clopper_pearson_interval(1, 4, 95), "level must lie strictly between 0 and 1, not 95"),
        (lambda: clopper_pearson_interval(1.0, 4), "n_success must be a whole number, not 1.0"),
        (lambda: upper_after_none(0), "n must be at least 1, not 0"),
        (lambda: upper_after_none(10, 0), "confidence must lie strictly between 0 and 1, not 0"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
