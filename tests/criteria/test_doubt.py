"""Doubts in one answer: those that bear on a stop first, five of them in full, and what settles each."""

from __future__ import annotations

from datetime import date

import pytest

from docgen.criteria.doubt import Doubt, doubtful


def _doubt(at: int, bears: bool = False) -> Doubt:
    return Doubt(
        f"Doubt {at}.", (("client", f"key_{at}"),), ((f"client.key_{at}", (at, 2.5, at)),), (at,), bears, (at,)
    )


@pytest.mark.parametrize(("n", "more"), [(1, ""), (5, ""), (6, " And 1 more."), (8, " And 3 more.")])
def test_five_doubts_are_told_in_full_and_the_others_counted(n, more):
    answer = doubtful([_doubt(at) for at in range(3, 3 + n)], "All agree")
    told = range(3, 3 + min(n, 5))
    assert answer.reason == " ".join(f"Doubt {at}." for at in told) + more
    assert answer.to_settle.count("[[confirmed]]") == len(told)
    assert answer.where == tuple(("client", f"key_{at}") for at in range(3, 3 + n))
    assert answer.rows == answer.totals == tuple(range(3, 3 + n))
    assert not answer.danger and answer.bare == "All agree: not so."


def test_one_that_can_hurt_comes_first_and_makes_the_answer_a_danger():
    answer = doubtful([_doubt(1), _doubt(2, bears=True), _doubt(3)], "All agree")
    assert answer.reason == "Doubt 2. Doubt 1. Doubt 3." and answer.danger


@pytest.mark.parametrize(
    ("values", "written"),
    [
        ((3, 2.5, 3), "[2.5, 3]"),
        ((2.5,), "[2.5]"),
        ((0.30000000000000004,), "[0.3]"),
        ((date(2026, 4, 2),), "[2026-04-02]"),
    ],
)
def test_the_least_and_the_greatest_value_are_what_is_confirmed(values, written):
    answer = doubtful([Doubt("A doubt.", (("client",),), (("client.key", values),))], "All agree")
    assert answer.to_settle.endswith(f'[[confirmed]] with of = "client.key", values = {written}, by and on.')
