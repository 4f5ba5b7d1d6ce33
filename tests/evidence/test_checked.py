"""Arguments: returned as given at each limit, refused by name just beyond it."""

from __future__ import annotations

import math

import pytest
from gathered import of_each

from docgen.evidence import checked


@pytest.mark.parametrize("value", [0, 1, 10_000_000])
def test_a_count_is_returned_as_given(value):
    assert checked.count("n", value) == value


@of_each(
    "value, limits, message",
    [
        (-1, {}, "n must be at least 0, not -1"),
        (10_000_001, {}, "n must be from 0 to 10000000, not 10000001"),
        (1, {"low": 2}, "n must be at least 2, not 1"),
        (4, {"low": 2, "high": 3}, "n must be from 2 to 3, not 4"),
        (1, {"low": 2, "high": 3}, "n must be from 2 to 3, not 1"),
        (True, {}, "n must be a whole number, not True"),
        (1.0, {}, "n must be a whole number, not 1.0"),
        ("1", {}, "n must be a whole number, not '1'"),
    ],
)
def test_a_count_out_of_range_is_refused_by_name(value, limits, message):
    with pytest.raises(ValueError) as failure:
        checked.count("n", value, **limits)
    assert str(failure.value) == message


def test_a_count_at_its_limits_is_taken():
    assert checked.count("n", 2, 2, 3) == 2 and checked.count("n", 3, 2, 3) == 3


@pytest.mark.parametrize("value", [0, 0.5, -1e12, 1e12])
def test_a_number_is_returned_as_given(value):
    assert checked.number("x", value) == value


@of_each("value", [math.nan, math.inf, -math.inf, 1.01e12, -1.01e12, True, "1", None])
def test_what_is_no_measurement_is_refused(value):
    with pytest.raises(ValueError, match="^x must be"):
        checked.number("x", value)


def test_the_limits_of_a_number_are_closed_below_and_above_and_open_where_said():
    assert checked.number("x", 2, 2) == 2 and checked.number("x", 3, high=3) == 3
    for call in (
        lambda: checked.number("x", 1.9999, 2),
        lambda: checked.number("x", 3.0001, high=3),
        lambda: checked.number("x", 2, above=2),
    ):
        with pytest.raises(ValueError, match="^x must be"):
            call()
    assert checked.number("x", 2.0001, above=2) == 2.0001


@pytest.mark.parametrize("value", [0, 1, -0.1, 1.1, math.nan])
def test_a_share_lies_strictly_inside(value):
    with pytest.raises(ValueError, match="^p must"):
        checked.share("p", value)
    assert checked.share("p", 0.5) == 0.5 and checked.share("p", 0.001) == 0.001 and checked.share("p", 0.999) == 0.999


def test_a_share_within_a_million_millionth_of_an_end_has_no_digits_left():
    for value in (1e-12, 1 - 1e-12):
        with pytest.raises(ValueError, match="^p must lie strictly between 0 and 1"):
            checked.share("p", value)
    assert checked.share("p", 1.05e-12) == 1.05e-12 and checked.share("p", 1 - 1.05e-12) < 1


@pytest.mark.parametrize("x, y", [([1, 2], [1]), ([1], [1]), ([], [])])
def test_two_series_are_as_long_as_each_other_and_hold_two_values(x, y):
    with pytest.raises(ValueError, match="x and y must hold as many values each, at least 2"):
        checked.series(x, y)
    assert checked.series([1, 2], (3, 4.5)) == ([1, 2], [3, 4.5])


def test_a_wrong_number_of_a_list_is_named_by_its_place():
    with pytest.raises(ValueError, match=r"^x\[1\] must be a number"):
        checked.numbers("x", [1, None])
    with pytest.raises(ValueError, match=r"^x\[2\] must be at least 0"):
        checked.numbers("x", [0, 1, -0.5], low=0)
    assert checked.numbers("x", [-1e12]) == [-1e12]
