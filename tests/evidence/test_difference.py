"""Two proportions compared: published limits and p values, general libraries, and the words that follow."""

from __future__ import annotations

import math
import random

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import confint_proportions_2indep

from docgen.evidence.difference import RARE, fisher_exact, newcombe_interval, verdict
from docgen.evidence.proportion import wilson_interval

modest = settings(max_examples=60, deadline=None, derandomize=True)
tallies = st.integers(1, 400).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))


@of_each(
    ("k1", "n1", "k2", "n2", "difference", "low", "high", "fisher"),
    [
        # Newcombe 1998, Stat Med 17:873-890, Table II, method 10; Fisher p recomputed with scipy
        (56, 70, 48, 80, 0.2000, 0.0524, 0.3339, 0.012521),
        (9, 10, 3, 10, 0.6000, 0.1705, 0.8090, 0.019767),
        (6, 7, 2, 7, 0.5714, 0.0582, 0.8062, 0.102564),
        (5, 56, 0, 29, 0.0893, -0.0381, 0.1926, 0.160621),
        (0, 10, 0, 20, 0.0000, -0.1611, 0.2775, 1.0),
        (0, 10, 0, 10, 0.0000, -0.2775, 0.2775, 1.0),
        (10, 10, 0, 20, 1.0000, 0.6791, 1.0000, 1 / math.comb(30, 10)),
        (10, 10, 0, 10, 1.0000, 0.6075, 1.0000, 2 / math.comb(20, 10)),
    ],
)
def test_published_differences_are_met(k1, n1, k2, n2, difference, low, high, fisher):
    found = newcombe_interval(k1, n1, k2, n2)
    assert (found.difference, found.low, found.high) == pytest.approx((difference, low, high), abs=5.001e-5)
    assert fisher_exact(k1, n1, k2, n2).two_sided == pytest.approx(fisher, rel=1e-4)


def test_newcombe_limits_agree_with_statsmodels_within_1e9_on_a_thousand_tables():
    draw = random.Random(21)
    for _ in range(1000):
        n1, n2 = (draw.choice([draw.randint(1, 30), draw.randint(1, 3000)]) for _ in range(2))
        k1, k2 = draw.choice([0, n1, draw.randint(0, n1)]), draw.choice([0, n2, draw.randint(0, n2)])
        level = draw.choice([0.9, 0.95, 0.99])
        found = newcombe_interval(k1, n1, k2, n2, level)
        theirs = confint_proportions_2indep(k1, n1, k2, n2, method="newcomb", compare="diff", alpha=1 - level)
        assert (found.low, found.high) == pytest.approx(theirs, abs=1e-9)


@modest
@given(tallies, tallies)
def test_swapping_the_methods_swaps_the_limits_and_their_signs(first, second):
    there, back = newcombe_interval(*first, *second), newcombe_interval(*second, *first)
    assert (there.difference, there.low, there.high) == pytest.approx(
        (-back.difference, -back.high, -back.low), abs=1e-12
    )
    assert -1 <= there.low <= there.difference <= there.high <= 1


@modest
@given(tallies, tallies, st.integers(2, 10))
def test_more_attempts_at_the_same_shares_narrow_the_difference(first, second, times):
    few = newcombe_interval(*first, *second)
    many = newcombe_interval(*(times * v for v in first), *(times * v for v in second))
    assert many.high - many.low < few.high - few.low


def test_fisher_p_values_of_the_tea_tasting():
    three_right = fisher_exact(3, 4, 1, 4)
    assert three_right.greater == pytest.approx(17 / 70)  # Fisher 1935; Agresti 2002, p. 91
    assert three_right.two_sided == pytest.approx(34 / 70)  # the same
    assert fisher_exact(4, 4, 0, 4).greater == pytest.approx(1 / 70)  # Fisher 1935
    ways = [fisher_exact(k, 4, 4 - k, 4) for k in range(5)]  # 1, 16, 36, 16, 1 tables of 70, by hand
    assert [round(70 * (w.less + w.greater - 1)) for w in ways] == [1, 16, 36, 16, 1]


def test_fisher_p_values_of_the_twins():
    # Fisher 1962: 2 of 17 and 10 of 13 convicted; values recomputed with R
    twins = fisher_exact(2, 17, 10, 13)
    assert twins.less == pytest.approx(0.000465181, abs=5e-10)
    assert twins.two_sided == pytest.approx(0.000536724, abs=5e-10)


def test_fisher_p_values_agree_with_scipy_within_1e9_on_a_thousand_tables():
    draw = random.Random(22)
    for _ in range(1000):
        n1, n2 = draw.randint(1, 120), draw.randint(1, 120)
        k1, k2 = draw.randint(0, n1), draw.randint(0, n2)
        found = fisher_exact(k1, n1, k2, n2)
        sides = (found.two_sided, "two-sided"), (found.less, "less"), (found.greater, "greater")
        for side, alternative in sides:
            theirs = stats.fisher_exact([[k1, n1 - k1], [k2, n2 - k2]], alternative).pvalue
            assert side == pytest.approx(theirs, abs=1e-9), (k1, n1, k2, n2, alternative)


def test_fisher_p_values_hold_for_tables_of_50_000_rows():
    found = fisher_exact(12_000, 25_000, 12_500, 25_000)
    theirs = stats.fisher_exact([[12_000, 13_000], [12_500, 12_500]]).pvalue
    assert found.two_sided == pytest.approx(theirs, rel=1e-6)


def test_fisher_p_values_of_a_table_too_unlikely_for_a_number_are_nought():
    found = fisher_exact(0, 2_000, 2_000, 2_000)  # 1 of comb(4000, 2000), which is above 1e1200
    assert (found.two_sided, found.less, found.greater) == (0.0, 0.0, 1.0)


@of_each(
    ("chosen", "other", "words", "points"),
    [
        # worked clinical examples with limits in whole points, no published source
        ((32, 38), (4, 16), "clearly_worse", (-59, -76, -31)),
        ((25, 28), (6, 16), "clearly_worse", (-52, -72, -23)),
        ((25, 28), (8, 16), "clearly_worse", (-39, -62, -12)),
        ((25, 28), (3, 8), "clearly_worse", (-52, -77, -16)),
        ((18, 20), (16, 20), "not_told_apart", (-10, -33, 13)),
        ((18, 20), (14, 20), "worse_so_far", (-20, -43, 5)),
        ((4, 10), (8, 10), "better_so_far", (40, -2, 67)),
        ((4, 10), (9, 10), "clearly_better", (50, 8, 75)),
        ((29, 32), (7, 16), "clearly_worse", (-47, -68, -19)),
        ((29, 32), (2, 8), "clearly_worse", (-66, -85, -28)),
    ],
)
def test_the_words_for_the_other_method(chosen, other, words, points):
    found = verdict(wilson_interval(*chosen), wilson_interval(*other))
    difference = found.difference
    assert found.words == words
    assert [round(100 * v) for v in (difference.difference, difference.low, difference.high)] == list(points)
    assert not found.too_few and not found.chosen_too_few


def test_a_control_used_fewer_than_five_times_is_never_clearly_worse_or_better():
    chosen, other = wilson_interval(29, 32), wilson_interval(0, 4)
    assert newcombe_interval(0, 4, 29, 32).high < 0
    found = verdict(chosen, other)
    assert (found.words, found.too_few, found.chosen_too_few) == ("worse_so_far", True, False)
    found = verdict(other, chosen)
    assert (found.words, found.too_few, found.chosen_too_few) == ("better_so_far", False, True)
    assert verdict(chosen, wilson_interval(0, 5)).words == "clearly_worse"
    assert verdict(wilson_interval(0, 5), chosen).words == "clearly_better"


@pytest.mark.parametrize(
    ("chosen", "other"),
    [
        ((19, 20), (16, 20)),
        ((8, 20), (5, 20)),
        ((17, 20), (14, 20)),
    ],
)
def test_a_difference_of_exactly_fifteen_points_is_worth_saying(chosen, other):
    assert verdict(wilson_interval(*chosen), wilson_interval(*other)).words == "worse_so_far"


def test_a_difference_just_below_fifteen_points_is_not_worth_saying():
    found = verdict(wilson_interval(0, 3), wilson_interval(149, 1000))
    assert found.chosen_too_few and found.words == "not_told_apart"


@modest
@given(tallies, tallies)
def test_the_words_turn_round_when_the_methods_do(first, second):
    opposite = {"better": "worse", "worse": "better"}
    one, two = wilson_interval(*first), wilson_interval(*second)
    there, back = verdict(one, two).words, verdict(two, one).words
    assert "_".join(opposite.get(word, word) for word in there.split("_")) == back


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: newcombe_interval(1, 0, 1, 2), "n_1 must be at least 1, not 0"),
        (lambda: newcombe_interval(1, 2, 3, 2), "n_success_2 must be from 0 to 2, not 3"),
        (lambda: newcombe_interval(1, 2, 1, 2, 0), "level must lie strictly between 0 and 1, not 0"),
        (lambda: fisher_exact(5, 4, 1, 2), "n_success_1 must be from 0 to 4, not 5"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()


def test_chance_is_called_rare_below_one_in_twenty():
    assert RARE == 1 / 20  # the usual limit, Fisher 1925, from memory
