"""Where a function crosses zero, against closed forms and scipy."""

from __future__ import annotations

import math
import random
import sys

import numpy
import pytest
from gathered import of_each
from scipy.optimize import brentq, elementwise

from docgen.evidence.solve import rising_root, root

FUNCTIONS = {
    "line": (lambda x: 2 * x - 3, 0.0, 5.0, 1.5),
    "falling": (lambda x: 1 - x**3, -4.0, 9.0, 1.0),
    "square": (lambda x: x * x - 2, 0.0, 2.0, math.sqrt(2)),
    "flat": (lambda x: (x - 0.3) ** 5, -1.0, 2.0, 0.3),
    "steep": (lambda x: math.expm1(40 * (x - 0.7)), 0.0, 1.0, 0.7),
    "cosine": (math.cos, 1.0, 2.0, math.pi / 2),
}


@of_each("name", FUNCTIONS)
def test_a_root_is_the_closed_form_and_that_of_scipy(name):
    f, low, high, at = FUNCTIONS[name]
    calls = []
    found = root(lambda x: calls.append(x) or f(x), low, high)
    tolerance = 1e-3 if name == "flat" else 1e-13
    assert found == pytest.approx(at, abs=tolerance) and found == pytest.approx(brentq(f, low, high), abs=tolerance)
    assert len(calls) <= (150 if name == "flat" else 20)  # halving alone takes more than 50
    assert low <= min(calls) and max(calls) <= high


def _bent(seed):
    """A rising function with its root anywhere, and ends that hold it."""
    draw = random.Random(seed)
    at, steep, bend = draw.uniform(-1, 1) * 10 ** draw.uniform(-9, 3), 10 ** draw.uniform(-1, 1.5), draw.random()
    return (
        lambda x: math.tanh(steep * (x - at)) + bend * (x - at) ** 3,
        at - 10 ** draw.uniform(-2, 1),
        at + 10 ** draw.uniform(-2, 1),
    )


@of_each("seed", range(60))
def test_the_places_tried_are_those_of_the_same_method_in_scipy(seed):
    """scipy's find_root is Chandrupatla's method; its tolerance on x is set to ours."""
    f, low, high = _bent(seed) if seed >= len(FUNCTIONS) else list(FUNCTIONS.values())[seed][:3]
    ours, theirs = [], []

    def watched(x):
        theirs.extend(numpy.ravel(x).tolist())
        return numpy.vectorize(f)(x)

    found = root(lambda x: ours.append(x) or f(x), low, high)
    eps = sys.float_info.epsilon
    wanted = {"xrtol": 4 * eps, "xatol": 0.2 * eps, "frtol": 0, "fatol": 0}
    assert found == float(elementwise.find_root(watched, (low, high), tolerances=wanted).x)
    assert ours == pytest.approx(theirs, rel=1e-12, abs=1e-15)


@pytest.mark.parametrize("low, high, at", [(1.0, 3.0, 1.0), (-2.0, 1.0, 1.0)])
def test_a_root_at_an_end_is_that_end(low, high, at):
    assert root(lambda x: x - 1, low, high) == at


def test_the_same_sign_at_both_ends_is_refused():
    with pytest.raises(ValueError, match="must change sign between 1.0 and 2.0"):
        root(lambda x: x, 1.0, 2.0)
    with pytest.raises(ValueError, match="must change sign"):
        root(lambda x: x, -2.0, -1.0)


@of_each("start", [-40.0, 0.0, 6.95, 7.25, 7.55, 90.0])
def test_a_rising_root_is_found_from_either_side(start):
    assert rising_root(lambda x: x - 7.25, start, 1e6) == pytest.approx(7.25, abs=1e-12)
    seen = []
    rising_root(lambda x: seen.append(x) or x - 7.25, start, 1e6)
    assert min(seen) >= min(start, 7.25) - 130 and max(seen) <= max(start, 7.25) + 130 and len(seen) < 30


def test_the_first_steps_are_a_half_and_then_twice_as_long():
    seen = []
    rising_root(lambda x: seen.append(x) or x - 2.9, 0.0, 1e6)
    assert seen[:4] == [0.0, 0.5, 1.5, 3.5]
    seen.clear()
    rising_root(lambda x: seen.append(x) or x + 2.9, 0.0, 1e6)
    assert seen[:4] == [0.0, -0.5, -1.5, -3.5]


def test_a_root_beyond_the_limit_is_the_limit():
    assert rising_root(lambda x: -1.0, 0.0, 100.0) == 100.0
    assert rising_root(lambda x: 1.0, 0.0, 100.0) == -100.0
    assert rising_root(lambda x: x - 3, 0.0, 1.5) == 3  # a search that stands at the limit goes one step more
