"""Orders for the visits there are: each as worked out in a table of two and three visits of 45 minutes, by count."""

from __future__ import annotations

import itertools

import pytest

from docgen.evidence.orders import followers, places
from docgen.evidence.trial_order import FEWEST_ALTERNATIONS, LEAST_A_BLOCK, Order, order_for
from docgen.evidence.trial_size import Visit

MOUNTED = Visit(change=1)


def letters(order):
    return " ".join("".join("ABCDEFGH"[method] for method in row) for row in order.rows)


# controls, visits, minutes of a visit and of an attempt, twice in a visit -> kind, order, attempts with each
@pytest.mark.parametrize(
    ("asked", "visit", "kind", "order", "n_each"),
    [
        ((2, 2), Visit(), "two", "AB BA", 14),
        ((2, 2), Visit(attempt=1.5), "two", "AB BA", 18),
        ((2, 2, True), MOUNTED, "two_twice", "ABBA BAAB", 12),
        ((2, 2, True), Visit(change=1, attempt=1.5), "two_twice", "ABBA BAAB", 16),
        ((2, 2, False), MOUNTED, "two", "AB BA", 16),  # what tires needs a rest: not twice
        ((2, 2), MOUNTED, "two", "AB BA", 16),
        ((2, 4), Visit(), "two", "AB BA AB BA", 28),
        ((2, 2, True), Visit(length=40, change=1), "two", "AB BA", 12),  # two blocks of two are fewer than five
        ((3, 9), Visit(), "two_of_three", "AB BC CA AC CB BA AB BC CA", 42),
        ((3, 3), Visit(length=54), "all", "ABC CBA BCA", 15),  # five a block are enough
        ((3, 2), Visit(length=30), "sieve", "ABC CBA", 2),
        ((2, 2, True), Visit(), "two", "AB BA", 14),  # one attempt a block is none to count on
        ((3, 2), Visit(), "sieve", "ABC CBA", 6),
        ((3, 2), Visit(attempt=1.5), "sieve", "ABC CBA", 8),
        ((3, 3), Visit(), "two_of_three", "AB BC CA", 14),
        ((3, 3), Visit(attempt=1.5), "two_of_three", "AB BC CA", 18),
        ((3, 6), Visit(length=90), "all", "ABC CBA BCA ACB CAB BAC", 66),
        ((4, 4), Visit(length=90), "all", "ABDC CDBA BCAD DACB", 28),
        ((2, 1), Visit(), "two", "AB", 7),
        ((1, 3), Visit(), "alone", "A A A", 51),
    ],
)
def test_an_order_is_as_worked_out(asked, visit, kind, order, n_each):
    planned = order_for(*asked[:2], visit, *asked[2:])
    assert (planned.kind, letters(planned)) == (kind, order)
    assert {*planned.n_each} == {n_each}


@pytest.mark.parametrize(
    ("asked", "visit"), [((4, 2), Visit()), ((5, 9), Visit()), ((2, 2), Visit(length=20)), ((1, 1), Visit(length=10))]
)
def test_what_no_visit_holds_has_no_order(asked, visit):
    planned = order_for(*asked, visit)
    assert planned == Order("none", (), 0, even=False, even_curved=False, both_ways=False, balanced=False)
    assert (planned.n_each, planned.n_alternations) == ((), 0)


@pytest.mark.parametrize(
    ("asked", "visit", "even", "even_curved", "both_ways", "balanced"),
    [
        ((2, 1), Visit(), False, False, False, False),
        ((2, 2), Visit(), True, False, True, True),
        ((2, 3), Visit(), False, False, False, False),
        ((2, 2, True), MOUNTED, True, True, True, False),
        ((3, 3), Visit(), False, False, False, False),
        ((3, 6), Visit(), True, False, True, False),
        ((3, 2), Visit(), True, False, True, False),
        ((3, 6), Visit(length=90), True, True, True, True),
        ((4, 3), Visit(length=90), False, False, False, False),
        ((4, 4), Visit(length=90), True, False, True, True),
    ],
)
def test_what_an_order_balances_is_told(asked, visit, even, even_curved, both_ways, balanced):
    planned = order_for(*asked[:2], visit, *asked[2:])
    assert (planned.even, planned.even_curved, planned.both_ways) == (even, even_curved, both_ways)
    assert planned.balanced is balanced


@pytest.mark.parametrize("n", range(3, 9))
def test_a_whole_square_in_visits_is_balanced_by_count_and_each_row_is_followed_by_its_mirror(n):
    n_rows = n * (2 if n % 2 else 1)
    rows = order_for(n, n_rows, Visit(length=600)).rows
    assert len({*places(rows).values()}) == 1
    assert {*followers(rows)} == {*itertools.permutations(range(n), 2)} and len({*followers(rows).values()}) == 1
    assert all(rows[at + 1] == rows[at][::-1] for at in range(0, n_rows, 2))


def test_two_visits_hold_two_alternations_and_both_twice_hold_four():
    assert order_for(2, 2, Visit()).n_alternations == 2 < FEWEST_ALTERNATIONS
    assert order_for(2, 2, MOUNTED, True).n_alternations == FEWEST_ALTERNATIONS
    once_less = Order("two", ((0, 1), (0,)), 5, even=False, even_curved=False, both_ways=False, balanced=False)
    assert once_less.n_alternations == 1
    assert order_for(2, 2, Visit()).n_block >= LEAST_A_BLOCK > order_for(3, 2, Visit()).n_block


@pytest.mark.parametrize(("asked", "name"), [((0, 2), "n_methods"), ((2, 0), "n_visits"), ((27, 2), "n")])
def test_what_there_cannot_be_is_refused_by_name(asked, name):
    with pytest.raises(ValueError, match=name):
        order_for(*asked, Visit(length=600))
