"""Goal attainment: the T score in its corrected form."""

from __future__ import annotations

import math

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.evidence.goals import t_score

modest = settings(max_examples=100, deadline=None, derandomize=True)
goals = st.lists(st.tuples(st.integers(-2, 2), st.integers(1, 9)), min_size=1, max_size=12)


@of_each(
    ("n", "per_level", "scores"),
    [
        # Kiresuk and Sherman 1968; equal weights, all goals at -2, -1, 0, 1, 2; T per level is 10 / sqrt(.7 n +
        # .3 n^2)
        (1, 10.0000, (30.00, 40.00, 50, 60.00, 70.00)),
        (2, 6.2017, (25.19, 37.60, 50, 62.40, 74.81)),
        (3, 4.5644, (22.61, 36.31, 50, 63.69, 77.39)),
        (4, 3.6274, (20.98, 35.49, 50, 64.51, 79.02)),
        (5, 3.0151, (19.85, 34.92, 50, 65.08, 80.15)),
        (6, 2.5820, (19.02, 34.51, 50, 65.49, 80.98)),
    ],
)
def test_scores_of_equal_weights_are_met(n, per_level, scores):
    for level, score in zip(range(-2, 3), scores, strict=True):
        assert t_score([level] * n) == pytest.approx(score, abs=5.001e-3)
    assert t_score([1] + [0] * (n - 1)) - 50 == pytest.approx(per_level, abs=5.001e-5)


@pytest.mark.parametrize(
    ("levels", "weights", "score"),
    [
        # from the corrected formula, by hand
        ([1, 0, -1], [3, 2, 1], 54.4065),
        ([1, 1, 2], [4, 6, 9], 69.7301),
        ([0, 1], [9, 1], 51.0697),
        ([-1, -1, -1], [6, 4, 9], 36.6117),
    ],
)
def test_weighted_scores_are_met(levels, weights, score):
    assert t_score(levels, weights) == pytest.approx(score, abs=5.001e-5)


def test_the_misprinted_formula_is_not_used():
    # without the square root over the denominator the first weighted example would give 50.97
    assert t_score([1, 0, -1], [3, 2, 1]) != pytest.approx(50.97, abs=0.01)


@modest
@given(goals, st.floats(0.001, 1000))
def test_scaling_all_weights_changes_nothing_and_turning_all_levels_mirrors_about_50(pairs, scale):
    levels, weights = zip(*pairs, strict=True)
    score = t_score(levels, weights)
    assert t_score(levels, [scale * w for w in weights]) == pytest.approx(score)
    assert t_score([-v for v in levels], weights) == pytest.approx(100 - score)
    assert math.isfinite(score)


@modest
@given(goals)
def test_one_goal_a_level_higher_raises_the_score(pairs):
    levels, weights = zip(*pairs, strict=True)
    if levels[0] < 2:
        assert t_score((levels[0] + 1, *levels[1:]), weights) > t_score(levels, weights)


def test_weights_of_any_size_are_taken():
    assert t_score([1, 0, -1], [3e9, 2e9, 1e9]) == pytest.approx(t_score([1, 0, -1], [3, 2, 1]))


def test_a_goal_of_no_weight_does_not_count():
    assert t_score([1, -2], [2, 0]) == pytest.approx(t_score([1]))


@of_each(
    ("call", "words"),
    [
        (lambda: t_score([]), "levels must hold at least one goal"),
        (lambda: t_score([3]), r"levels\[0\] must be from -2 to 2, not 3"),
        (lambda: t_score([0.5]), r"levels\[0\] must be a whole number, not 0.5"),
        (lambda: t_score([1, 1], [1]), "weights must be as many as levels, 2, not 1"),
        (lambda: t_score([1, 1], [0, 0]), r"weights must not all be 0, \[0, 0\]"),
        (lambda: t_score([1], [-1]), r"weights\[0\] must be at least 0 .*, not -1"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
