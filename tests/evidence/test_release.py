"""Upper bounds on release times: published factors, scipy, simulated drivers, and which bound is chosen."""

from __future__ import annotations

import math
import random
import statistics
from statistics import NormalDist

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from docgen.evidence.release import FEWEST, bound_rank, release_bound, smallest_n, tolerance_factor

modest = settings(max_examples=60, deadline=None, derandomize=True)
releases = st.lists(st.floats(0.05, 30), max_size=150)


@of_each(
    ("n", "coverage", "confidence", "factor"),
    [
        # published one-sided tolerance factors, from memory: Odeh and Owen 1980; n 43 NIST/SEMATECH handbook
        # 7.2.6.3
        (3, 0.95, 0.95, 7.656),
        (4, 0.95, 0.95, 5.144),
        (5, 0.95, 0.95, 4.203),
        (6, 0.95, 0.95, 3.708),
        (7, 0.95, 0.95, 3.399),
        (8, 0.95, 0.95, 3.187),
        (9, 0.95, 0.95, 3.031),
        (10, 0.95, 0.95, 2.911),
        (12, 0.95, 0.95, 2.736),
        (15, 0.95, 0.95, 2.566),
        (20, 0.95, 0.95, 2.396),
        (25, 0.95, 0.95, 2.292),
        (30, 0.95, 0.95, 2.220),
        (50, 0.95, 0.95, 2.065),
        (100, 0.95, 0.95, 1.927),
        (10, 0.90, 0.95, 2.355),
        (10, 0.99, 0.95, 3.981),
        (43, 0.90, 0.99, 1.8740),
    ],
)
def test_published_tolerance_factors_are_met(n, coverage, confidence, factor):
    assert tolerance_factor(n, coverage, confidence) == pytest.approx(factor, abs=6e-4)


def test_tolerance_factors_agree_with_scipy_to_nine_digits():
    draw = random.Random(61)
    for _ in range(150):
        n = draw.choice([draw.randint(2, 60), draw.randint(2, 500)])
        coverage, confidence = draw.choice([0.8, 0.9, 0.95, 0.99]), draw.choice([0.5, 0.9, 0.95, 0.99])
        shift = NormalDist().inv_cdf(coverage) * math.sqrt(n)
        theirs = stats.nct.ppf(confidence, n - 1, shift) / math.sqrt(n)
        assert tolerance_factor(n, coverage, confidence) == pytest.approx(theirs, rel=1e-9)


@of_each(
    ("coverage", "confidence", "n"),
    [
        (0.95, 0.95, 59),
        (0.90, 0.95, 29),
        (0.90, 0.90, 22),
        (0.99, 0.95, 299),
        (0.95, 0.90, 45),
        (0.99, 0.99, 459),
        (0.50, 0.75, 2),
    ],
)
def test_published_smallest_samples_are_met(coverage, confidence, n):
    # tables of distribution-free tolerance limits, from memory; 1 - coverage^n >= confidence, by hand
    assert smallest_n(coverage, confidence) == n
    assert bound_rank(n, coverage, confidence) == n
    assert n == 1 or bound_rank(n - 1, coverage, confidence) is None


@of_each(
    ("n", "from_the_top"),
    [
        (59, 1),
        (92, 1),
        (93, 2),
        (123, 2),
        (124, 3),
        (153, 4),
        (181, 5),
    ],
)
def test_published_ranks_are_met(n, from_the_top):
    # smallest n for the r-th largest value at 0.95/0.95: 59, 93, 124, 153, 181 (published tables, from
    # memory)
    assert bound_rank(n) == n + 1 - from_the_top


def test_ranks_agree_with_scipy():
    draw = random.Random(62)
    for _ in range(300):
        n, coverage = draw.randint(1, 5000), draw.choice([0.8, 0.9, 0.95])
        confidence = draw.choice([0.9, 0.95])
        rank = int(stats.binom.ppf(confidence, n, coverage)) + 1
        assert bound_rank(n, coverage, confidence) == (rank if rank <= n else None)


@pytest.mark.parametrize(
    ("n", "draw_time", "limit"),
    [
        (8, lambda draw: draw.lognormvariate(-0.5, 0.4), math.exp(-0.5 + 0.4 * 1.6448536)),
        (20, lambda draw: draw.lognormvariate(0, 0.2), math.exp(0.2 * 1.6448536)),
        (59, lambda draw: draw.expovariate(1), -math.log(0.05)),
        (124, lambda draw: draw.uniform(0.3, 0.9), 0.3 + 0.95 * 0.6),
    ],
)
def test_the_bound_covers_95_percent_of_releases_for_95_percent_of_simulated_drivers(n, draw_time, limit):
    draw = random.Random(63)
    n_drivers = 600
    drivers = ([draw_time(draw) for _ in range(n)] for _ in range(n_drivers))
    covered = sum(release_bound(times).upper_s >= limit for times in drivers)
    assert covered / n_drivers > 0.95 - 3.5 * math.sqrt(0.95 * 0.05 / n_drivers)


def test_a_lognormal_bound_by_hand():
    found = release_bound([math.exp(v) for v in (0.1, 0.2, 0.3, 0.4, 0.5)])
    # mean of logs 0.3, their standard deviation 0.158114, published factor for n 5 4.203
    assert found.upper_s == pytest.approx(math.exp(0.3 + 4.203 * 0.158114), rel=1e-3)
    assert (found.method, found.n, found.slowest_s) == ("lognormal", 5, math.exp(0.5))


@pytest.mark.parametrize(
    ("times", "why"),
    [
        ([], "no release time was recorded"),
        ([0.5, 0.7, 1.1], "3 of the 5 release times that a bound needs"),
        ([0.3] * 12, "all 12 release times are the same, so their spread cannot be judged"),
        ([0.0, 0.2, 0.3, 0.4, 0.5], "a release of 0 s was recorded, which no log scale takes"),
        ([0.001, 0.001, 0.001, 0.001, 900], "the 5 release times are too scattered for a bound"),
    ],
)
def test_where_no_bound_can_be_stood_for_the_reason_and_the_slowest_are_given(times, why):
    found = release_bound(times)
    assert (found.upper_s, found.method, found.why) == (None, "none", why)
    assert found.slowest_s == (max(times) if times else None)


def test_a_time_beyond_the_lognormal_bound_stands_as_the_bound():
    times = [0.5] * 40 + [0.51] * 10 + [3.0]
    found = release_bound(times)
    assert (found.method, found.upper_s, found.slowest_s) == ("slowest", 3.0, 3.0)


def test_enough_times_need_no_distribution():
    times = [0.4 + 0.01 * v for v in range(100)]
    found = release_bound(times)
    assert (found.method, found.rank, found.upper_s, found.slowest_s) == ("ranked", 99, times[98], times[99])
    assert release_bound([0.3] * 59).upper_s == 0.3
    assert release_bound([0.5] * 58).method == "none"


@modest
@given(releases)
def test_a_bound_lies_above_the_median_and_does_not_depend_on_order(times):
    found = release_bound(times)
    assert release_bound(list(reversed(times))) == found
    assert found.why and (found.upper_s is None) == (found.method == "none")
    if found.upper_s is not None:
        assert found.n >= FEWEST
        assert found.upper_s >= statistics.median(times)
    if found.method in ("lognormal", "slowest"):
        assert found.upper_s >= found.slowest_s


@modest
@given(st.integers(2, 300), st.floats(0.5, 0.99), st.floats(0.5, 0.99))
def test_more_confidence_or_coverage_needs_a_larger_factor(n, coverage, confidence):
    factor = tolerance_factor(n, coverage, confidence)
    assert tolerance_factor(n, (1 + coverage) / 2, confidence) > factor
    assert tolerance_factor(n, coverage, (1 + confidence) / 2) > factor
    assert factor > NormalDist().inv_cdf(coverage) - 1e-9 or confidence < 0.51


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: tolerance_factor(1), "n must be from 2 to 100000, not 1"),
        (lambda: smallest_n(1, 0.95), "coverage must lie strictly between 0 and 1, not 1"),
        (lambda: bound_rank(0), "n must be at least 1, not 0"),
        (lambda: release_bound([0.5, -0.1]), r"times_s\[1\] must be at least 0 .*, not -0.1"),
        (lambda: release_bound([], confidence=0), "confidence must lie strictly between 0 and 1, not 0"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()


def test_a_release_of_nought_is_looked_for_among_all_times_and_two_same_times_are_no_lack_of_spread():
    assert release_bound([0.0, 0.4, 0.5, 0.6, 0.7]).why.startswith("a release of 0 s")
    assert release_bound([0.4, 0.4, 0.5, 0.6, 0.7]).method == "lognormal"
    assert release_bound([0.4, 0.5, 0.6, 0.7, 0.7]).method == "lognormal"
    assert release_bound([0.4, 0.7, 0.7, 0.7, 0.7]).method == "lognormal"


def test_a_bound_of_an_hour_is_the_last():
    """Times scaled so that the lognormal bound stands just below and just above 3600 s."""
    times = [1.0, 1.5, 2.0, 3.0, 4.0]
    scale = 3600 / release_bound(times).upper_s
    assert release_bound([scale * 0.999 * time for time in times]).upper_s == pytest.approx(3596.4)
    assert release_bound([scale * 1.001 * time for time in times]).upper_s is None
