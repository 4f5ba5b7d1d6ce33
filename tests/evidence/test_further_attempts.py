"""Further attempts: a textbook value, statsmodels, and agreement with the words for a difference."""

from __future__ import annotations

import math
import random

import pytest
from gathered import of_each
from statsmodels.stats.power import NormalIndPower
from statsmodels.stats.proportion import samplesize_proportions_2indep_onetail

from docgen.evidence.difference import newcombe_interval
from docgen.evidence.further_attempts import attempts_per_method, further_attempts


def test_the_textbook_value_is_met():
    needed = attempts_per_method(0.6, 0.5)  # usual textbook example: 388 in each group
    assert needed is not None and math.ceil(needed) == 388


def test_attempts_agree_with_statsmodels_to_nine_digits_on_a_thousand_pairs():
    draw = random.Random(31)
    for _ in range(1000):
        one, two = draw.uniform(0.01, 0.99), draw.uniform(0.01, 0.99)
        alpha, power = draw.choice([0.01, 0.05, 0.1]), draw.choice([0.52, 0.7, 0.8, 0.9, 0.95])
        theirs = samplesize_proportions_2indep_onetail(one - two, two, power, alpha=alpha, alternative="two-sided")
        assert attempts_per_method(one, two, alpha, power) == pytest.approx(theirs, rel=1e-9)


def test_attempts_are_near_those_of_another_normal_approximation():
    # arcsine form of the same question in statsmodels; the two differ by a few attempts
    for one, two in ((0.6, 0.5), (0.7, 0.5), (0.8, 0.6)):
        effect = 2 * math.asin(math.sqrt(one)) - 2 * math.asin(math.sqrt(two))
        theirs = NormalIndPower().solve_power(effect_size=effect, alpha=0.05, power=0.8)
        assert attempts_per_method(one, two) == pytest.approx(theirs, rel=0.03)


def test_equal_rates_can_never_be_told_apart():
    assert further_attempts(3, 4, 15, 20) is None
    assert attempts_per_method(1, 1) is None
    assert attempts_per_method(0, 5e-324) is None


def test_attempts_already_made_are_taken_off():
    found = further_attempts(6, 10, 15, 30)
    assert found is not None and (found.n_per_method, found.further_1, found.further_2) == (388, 378, 358)


def test_methods_that_differ_in_everything_still_need_five_attempts_each():
    found = further_attempts(1, 1, 0, 2)
    assert found is not None and (found.n_per_method, found.further_1, found.further_2) == (5, 4, 3)


def test_a_larger_difference_or_less_power_needs_fewer_attempts():
    assert attempts_per_method(0.9, 0.3) < attempts_per_method(0.9, 0.5)
    assert attempts_per_method(0.9, 0.5) < attempts_per_method(0.9, 0.5, power=0.9)
    assert attempts_per_method(0.9, 0.5, alpha=0.1) < attempts_per_method(0.9, 0.5)
    assert attempts_per_method(0.9, 0.5) == pytest.approx(attempts_per_method(0.5, 0.9))
    assert attempts_per_method(0.9, 0.5) == pytest.approx(attempts_per_method(0.1, 0.5))


def test_when_no_more_attempts_are_asked_for_the_interval_already_excludes_zero():
    n_seen = 0
    for n_1 in range(1, 13):
        for n_2 in range(1, 13):
            for k_1 in range(n_1 + 1):
                for k_2 in range(n_2 + 1):
                    found = further_attempts(k_1, n_1, k_2, n_2)
                    if found is not None and found.further_1 == found.further_2 == 0:
                        n_seen += 1
                        interval = newcombe_interval(k_1, n_1, k_2, n_2)
                        assert interval.low > 0 or interval.high < 0, (k_1, n_1, k_2, n_2)
    assert n_seen > 500


@of_each(
    ("call", "words"),
    [
        (lambda: further_attempts(1, 0, 1, 2), "n_1 must be at least 1, not 0"),
        (lambda: further_attempts(1, 2, 1, 2, power=0.4), "power must be more than 0.5, not 0.4"),
        (lambda: attempts_per_method(0.2, 0.5, power=0.5), "power must be more than 0.5, not 0.5"),
        (lambda: attempts_per_method(0.2, 1.5), "share_2 must be .*, not 1.5"),
        (lambda: attempts_per_method(1.2, 0.5), "share_1 must be .*, not 1.2"),
        (lambda: attempts_per_method(0.2, 0.5, alpha=1), "alpha must lie strictly between 0 and 1, not 1"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
