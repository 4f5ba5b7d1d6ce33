"""Rows that are tried in one test: every one is tried, and each that does not hold is named once."""

from __future__ import annotations

import pytest
from gathered import of_each


def _failure(check) -> str:
    with pytest.raises(pytest.fail.Exception) as failure:
        check()
    return str(failure.value)


def test_every_row_is_tried_and_each_at_fault_is_named_once_with_its_line():
    tried = []

    @of_each(("n", "says"), [(1, "one"), (2, "two"), pytest.param(3, "three", id="the third")])
    def check(n, says):
        tried.append(says)
        assert n == 1, f"{n} is not 1"

    told = _failure(check).split("\n")
    assert tried == ["one", "two", "three"]
    assert [line.partition(" ")[0] for line in told if line.startswith("[")] == ["[2-two]", "[the"]
    assert all("test_gathered.py:" in line and "is not 1" in line for line in told if line.startswith("["))


def test_rows_by_rows_are_tried_as_a_product_and_an_error_is_a_fault_too():
    @of_each("left", [1, 0])
    @of_each("right", [1, 2])
    def check(left, right):
        assert right / left == right

    told = _failure(check)
    assert told.count("ZeroDivisionError") == 2 and "[0]" in told and "[1] test_gathered" in told


def test_a_table_without_rows_is_a_fault():
    @of_each("n", [])
    def check(n):
        pass

    with pytest.raises(AssertionError, match="no row"):
        check()
