"""Equal controls that look different: exact sums with scipy's binomial distribution."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binom

from docgen.evidence.equal_controls import chance_as_far_apart, chances_of_each


@pytest.mark.parametrize(
    ("n", "fifteen", "thirty"), [(8, 0.339, 0.112), (10, 0.394, 0.157), (16, 0.265, 0.045), (20, 0.320, 0.029)]
)
def test_two_controls_of_eight_in_ten_look_apart_as_often_as_the_sums_say(n, fifteen, thirty):
    """scipy.stats.binom.pmf summed over all pairs of counts that differ by so much, to three places."""
    assert chance_as_far_apart(n, n, 0.8, Fraction(15, 100)) == pytest.approx(fifteen, abs=5.001e-4)
    assert chance_as_far_apart(n, n, 0.8, Fraction(30, 100)) == pytest.approx(thirty, abs=5.001e-4)


@given(st.integers(1, 40), st.integers(1, 40), st.floats(0, 1), st.integers(0, 40), st.integers(0, 40))
@settings(max_examples=80, deadline=None, derandomize=True)
def test_any_trial_is_as_scipy_sums_it(n_1, n_2, true_share, k_1, k_2):
    k_1, k_2 = min(k_1, n_1), min(k_2, n_2)
    apart = abs(Fraction(k_1, n_1) - Fraction(k_2, n_2))
    pairs = np.outer(binom.pmf(range(n_1 + 1), n_1, true_share), binom.pmf(range(n_2 + 1), n_2, true_share))
    far = [[abs(i * n_2 - j * n_1) >= apart * n_1 * n_2 for j in range(n_2 + 1)] for i in range(n_1 + 1)]
    assert chance_as_far_apart(n_1, n_2, true_share, apart) == pytest.approx(pairs[np.array(far)].sum(), abs=1e-9)


def test_each_number_done_has_its_chance():
    """By hand where the rate is none or all; scipy.stats.binom.pmf else."""
    assert chances_of_each(3, 0.0) == [1, 0, 0, 0] and chances_of_each(3, 1.0) == [0, 0, 0, 1]
    assert chances_of_each(10, 0.9) == pytest.approx([*binom.pmf(range(11), 10, 0.9)], abs=1e-12)


def test_no_difference_is_always_reached_and_the_order_of_the_two_does_not_matter():
    assert chance_as_far_apart(7, 9, 0.4, Fraction(0)) == pytest.approx(1)
    assert chance_as_far_apart(7, 9, 0.4, Fraction(1, 3)) == pytest.approx(
        chance_as_far_apart(9, 7, 0.4, Fraction(1, 3))
    )
    assert chance_as_far_apart(5, 5, 1.0, Fraction(1, 5)) == 0.0 == chance_as_far_apart(5, 5, 0.0, Fraction(1, 5))


@pytest.mark.parametrize(
    ("given_", "told"),
    [
        ((0, 5, 0.5, Fraction(1, 5)), "n_1"),
        ((5, 0, 0.5, Fraction(1, 5)), "n_2"),
        ((5, 5, 1.5, Fraction(1, 5)), "true_share"),
        ((5, 5, 0.5, Fraction(6, 5)), "apart"),
        ((5, 5, 0.5, Fraction(-1, 5)), "apart"),
    ],
)
def test_what_is_no_trial_is_refused_by_name(given_, told):
    with pytest.raises(ValueError, match=told):
        chance_as_far_apart(*given_)
