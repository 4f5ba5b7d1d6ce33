"""Rates of events: Garwood's limits, rate ratios, general libraries, and what every interval must do."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from docgen.evidence.rate import garwood_interval, rate_ratio

modest = settings(max_examples=60, deadline=None, derandomize=True)
counts = st.integers(0, 500)
exposures = st.floats(0.5, 5_000)

# Garwood 1936, Biometrika 28:437-442, 95 %, recomputed with R and scipy; the lower limits for 16 and 17
# settled by
# summing the Poisson terms with 50 decimal digits (9.14538245, 9.90312647)
GARWOOD = {
    0: (0, 3.688879),
    1: (0.025318, 5.571643),
    2: (0.242209, 7.224688),
    3: (0.618672, 8.767273),
    4: (1.089865, 10.241589),
    5: (1.623486, 11.668332),
    6: (2.201894, 13.059474),
    7: (2.814363, 14.422675),
    8: (3.453832, 15.763189),
    9: (4.115373, 17.084803),
    10: (4.795389, 18.390356),
    11: (5.491160, 19.682039),
    12: (6.200575, 20.961585),
    13: (6.921952, 22.230396),
    14: (7.653930, 23.489621),
    15: (8.395386, 24.740219),
    16: (9.145382, 25.982998),
    17: (9.903126, 27.218647),
    18: (10.667941, 28.447760),
    19: (11.439241, 29.670854),
    20: (12.216520, 30.888378),
}


@of_each(("n_events", "limits"), GARWOOD.items())
def test_the_table_of_limits_is_met(n_events, limits):
    found = garwood_interval(n_events, 1)
    assert (found.low, found.high) == pytest.approx(limits, abs=5.001e-7)


@pytest.mark.parametrize(
    ("level", "limits"),
    [
        (0.95, (16.18, 36.90)),
        (0.90, (17.38, 34.92)),
        (0.99, (14.00, 41.00)),  # published limits for 25 events
    ],
)
def test_the_published_limits_for_25_events_are_met(level, limits):
    found = garwood_interval(25, 1, level=level)
    assert (found.low, found.high) == pytest.approx(limits, abs=5.001e-3)


def test_rates_are_scaled_to_the_unit_asked_for():
    found = garwood_interval(3, 240, per=100)  # from the table, by hand
    assert (found.rate, found.low, found.high) == pytest.approx((1.25, 0.257780, 3.653030), abs=5e-7)
    # from the table, by hand
    assert garwood_interval(0, 150, per=100).high == pytest.approx(2.459253, abs=5e-7)


def test_without_a_unit_a_rate_is_per_one_and_without_a_level_it_is_95_percent():
    assert garwood_interval(2, 10) == garwood_interval(2, 10, 1.0, 0.95)
    assert rate_ratio(2, 10, 3, 10) == rate_ratio(2, 10, 3, 10, 0.95)


def test_limits_agree_with_scipy_within_1e9_of_their_size_on_a_thousand_counts():
    draw = random.Random(41)
    for _ in range(1000):
        c = draw.choice([0, draw.randint(0, 20), draw.randint(0, 50_000)])
        level = draw.choice([0.9, 0.95, 0.99])
        tail = (1 - level) / 2
        found = garwood_interval(c, 1, level=level)
        low = stats.chi2.ppf(tail, 2 * c) / 2 if c else 0.0
        high = stats.chi2.ppf(1 - tail, 2 * c + 2) / 2
        assert (found.low, found.high) == pytest.approx((low, high), rel=1e-9)


@modest
@given(counts, exposures, st.floats(0.5, 0.999))
def test_an_interval_contains_its_rate_and_none_seen_is_not_none_possible(n_events, exposure, level):
    found = garwood_interval(n_events, exposure, 100, level)
    assert 0 <= found.low <= found.rate <= found.high
    assert (found.low == 0) == (n_events == 0) and found.high > 0


@modest
@given(counts, exposures)
def test_one_more_event_raises_both_limits_and_twice_the_exposure_halves_them(n_events, exposure):
    one, more = garwood_interval(n_events, exposure), garwood_interval(n_events + 1, exposure)
    assert one.low < more.low and one.high < more.high
    twice = garwood_interval(n_events, 2 * exposure)
    assert (2 * twice.low, 2 * twice.high) == pytest.approx((one.low, one.high), rel=1e-12)


@modest
@given(st.integers(1, 300), exposures, st.integers(2, 10))
def test_more_exposure_at_the_same_rate_narrows_the_interval(n_events, exposure, times):
    few, many = garwood_interval(n_events, exposure), garwood_interval(times * n_events, times * exposure)
    assert many.high - many.low < few.high - few.low


@of_each(
    ("first", "second", "ratio", "low", "high", "p"),
    [
        # breast cancer data in R and ISwR; R poisson.test
        ((11, 800), (21, 3011), 1.971488, 0.858426, 4.277266, None),
        ((2, 17877), (9, 16660), 0.207094, 0.021774, 1.000549, 0.050106),  # Fay 2010, R Journal 2(1):53-58
        ((3, 240), (12, 200), 0.208333, 0.037727, 0.771982, None),  # this and below: recomputed with R and scipy
        ((2, 100), (8, 100), 0.25, 0.025863, 1.252737, 0.109375),
        ((0, 100), (5, 100), 0, 0, 1.091279, 0.0625),
        ((0, 100), (0, 100), None, 0, None, 1),
    ],
)
def test_published_rate_ratios_are_met(first, second, ratio, low, high, p):
    found = rate_ratio(*first, *second)
    assert found.low == pytest.approx(low, abs=5.001e-7)
    assert (
        (found.ratio, found.high) == (None, None)
        if ratio is None
        else ((found.ratio, found.high) == pytest.approx((ratio, high), abs=5.001e-7))
    )
    assert p is None or found.p_doubled == pytest.approx(p, abs=5.001e-7)


def test_a_single_rate_against_a_standard_is_met():
    # Welsh nickel workers, 137 events where 24.19893 were expected; R poisson.test
    found = garwood_interval(137, 24.19893)
    assert (found.rate, found.low, found.high) == pytest.approx((5.661407, 4.753125, 6.692709), abs=5.001e-7)


def test_rate_ratios_agree_with_scipy_within_1e9_on_a_thousand_pairs():
    """Limits of the first share of all events as beta quantiles (Clopper and Pearson 1934), asked of scipy at once."""
    draw = random.Random(42)
    drawn = [
        (draw.randint(0, 40), draw.randint(0, 40), draw.uniform(1, 500), draw.uniform(1, 500)) for _ in range(1000)
    ]
    pairs = [pair for pair in drawn if pair[0] + pair[1] > 0]
    one, two, t1, t2 = map(np.array, zip(*pairs, strict=True))
    low = np.where(one > 0, stats.beta.ppf(0.025, np.maximum(one, 1), two + 1), 0.0)
    high = stats.beta.ppf(0.975, one + 1, np.maximum(two, 1))  # looked at below only where the second has events
    part = t1 / (t1 + t2)
    doubled = 2 * np.minimum(stats.binom.cdf(one, one + two, part), stats.binom.sf(one - 1, one + two, part))
    for at, (n_one, n_two, t_one, t_two) in enumerate(pairs):
        found = rate_ratio(n_one, t_one, n_two, t_two)
        assert found.low == pytest.approx(low[at] / (1 - low[at]) * t_two / t_one, rel=1e-9)
        if n_two:
            assert found.high == pytest.approx(high[at] / (1 - high[at]) * t_two / t_one, rel=1e-9)
        assert found.p_doubled == pytest.approx(min(1, doubled[at]), abs=1e-9)


@modest
@given(counts, exposures, counts, exposures)
def test_p_and_interval_never_contradict_each_other_and_swapping_inverts_the_ratio(one, t1, two, t2):
    there, back = rate_ratio(one, t1, two, t2), rate_ratio(two, t2, one, t1)
    excluded = there.low > 1 + 1e-9 or (there.high is not None and there.high < 1 - 1e-9)
    included = there.low < 1 - 1e-9 and (there.high is None or there.high > 1 + 1e-9)
    assert there.p_doubled < 0.05 if excluded else True
    assert there.p_doubled > 0.05 if included else True
    assert there.p_doubled == pytest.approx(back.p_doubled, abs=1e-12)
    assert there.low == (0 if back.high is None else pytest.approx(1 / back.high, rel=1e-9))
    assert there.ratio is None or there.low <= there.ratio <= there.high


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: garwood_interval(-1, 10), "n_events must be at least 0, not -1"),
        (lambda: garwood_interval(1, 0), "exposure must be more than 0 .*, not 0"),
        (lambda: garwood_interval(1, math.inf), "exposure must be .*, not inf"),
        (lambda: garwood_interval(1, 10, per=0), "per must be more than 0 .*, not 0"),
        (lambda: rate_ratio(1, 10, 2, -3), "exposure_2 must be more than 0 .*, not -3"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
