"""One proportion: published limits, agreement with general libraries, and what every interval must do."""

from __future__ import annotations

import random

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from docgen.evidence.proportion import wilson_interval

modest = settings(max_examples=60, deadline=None, derandomize=True)
tallies = st.integers(1, 3_000).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))
levels = st.floats(0.5, 0.999)


@of_each(
    ("k", "n", "published"),
    [
        (81, 263, (0.2553, 0.3662)),  # Newcombe 1998, Stat Med 17:857-872, Table I
        (15, 148, (0.0624, 0.1605)),  # the same
        (0, 20, (0.0000, 0.1611)),  # the same
        (1, 29, (0.0061, 0.1718)),  # the same
        # this and below: recomputed with scipy and statsmodels
        (0, 10, (0.0000, 0.2775)),
        (10, 10, (0.7225, 1.0000)),
        (13, 16, (0.569911, 0.934084)),
        (5, 10, (0.236593, 0.763407)),
        (8, 10, (0.490162, 0.943318)),
        (9, 10, (0.595850, 0.982124)),
        (3, 4, (0.300642, 0.954413)),
        (47, 50, (0.837829, 0.979385)),
    ],
)
def test_published_limits_are_met(k, n, published):
    interval = wilson_interval(k, n)
    assert (interval.low, interval.high) == pytest.approx(published, abs=5.001e-5)


def test_limits_agree_with_general_libraries_within_1e9_on_a_thousand_tables():
    draw = random.Random(11)
    for _ in range(1000):
        n = draw.choice([draw.randint(1, 30), draw.randint(1, 400), draw.randint(1, 50_000)])
        k = draw.choice([0, n, draw.randint(0, n)])
        level = draw.choice([0.9, 0.95, 0.99, draw.uniform(0.5, 0.999)])
        wilson = wilson_interval(k, n, level)
        assert (wilson.low, wilson.high) == pytest.approx(
            proportion_confint(k, n, 1 - level, method="wilson"), abs=1e-9
        )


def test_limits_agree_with_a_second_library():
    for k, n in ((0, 7), (3, 7), (7, 7), (81, 263)):
        theirs, interval = stats.binomtest(k, n).proportion_ci(method="wilson"), wilson_interval(k, n)
        assert (interval.low, interval.high) == pytest.approx((theirs.low, theirs.high), abs=1e-9)


@modest
@given(tallies, levels)
def test_an_interval_contains_its_estimate_and_stays_between_0_and_1(tally, level):
    found = wilson_interval(*tally, level)
    assert 0 <= found.low <= found.share <= found.high <= 1
    assert (found.low == 0) == (tally[0] == 0)
    assert (found.high == 1) == (tally[0] == tally[1])


@pytest.mark.parametrize("level", [0.001, 0.5, 0.9, 0.95, 0.999])
def test_no_success_gives_exactly_nought_and_no_failure_exactly_one(level):
    for n in (*range(1, 60), 1_000, 50_000):
        assert wilson_interval(0, n, level).low == 0 and wilson_interval(n, n, level).high == 1


@modest
@given(tallies, levels)
def test_failures_mirror_successes(tally, level):
    k, n = tally
    there, back = wilson_interval(k, n, level), wilson_interval(n - k, n, level)
    assert (there.low, there.high) == pytest.approx((1 - back.high, 1 - back.low), abs=1e-12)


@modest
@given(tallies, st.integers(2, 20))
def test_more_attempts_at_the_same_share_narrow_the_interval(tally, times):
    few, many = wilson_interval(*tally), wilson_interval(tally[0] * times, tally[1] * times)
    assert many.high - many.low < few.high - few.low


@modest
@given(tallies, levels)
def test_one_more_success_raises_both_limits(tally, level):
    k, n = tally
    lower, higher = wilson_interval(k, n + 1, level), wilson_interval(k + 1, n + 1, level)
    assert lower.low < higher.low and lower.high < higher.high


@modest
@given(tallies, levels)
def test_more_confidence_widens_the_interval(tally, level):
    sure, surer = wilson_interval(*tally, level), wilson_interval(*tally, (1 + level) / 2)
    assert surer.low <= sure.low and sure.high <= surer.high


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: wilson_interval(0, 0), "n must be at least 1, not 0"),
        (lambda: wilson_interval(5, 4), "n_success must be from 0 to 4, not 5"),
        (lambda: wilson_interval(-1, 4), "n_success must be from 0 to 4, not -1"),
        (lambda: wilson_interval(True, 4), "n_success must be a whole number, not True"),
        (lambda: wilson_interval(1, 4, 1.0), "level must lie strictly between 0 and 1, not 1.0"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
