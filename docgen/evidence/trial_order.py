"""An order for the visits there are: which controls in which visit, how many attempts, and what it cannot balance."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from docgen.evidence.checked import count
from docgen.evidence.orders import followers, is_balanced, leans, mirrored, square
from docgen.evidence.trial_size import Visit, attempts_a_block

LEAST_A_BLOCK = 5  # points of a condition that single-case standards ask for (What Works Clearinghouse 2010)
FEWEST_ALTERNATIONS = 4  # of two controls, from which on these standards take a comparison with reservations

# one control alone; two in each visit, or each twice in it; of three, another two in each visit; every one in each
# visit; the same with too few attempts for a comparison; or none, for no visit holds them
Kind = Literal["alone", "two", "two_twice", "two_of_three", "all", "sieve", "none"]
_EVEN = 1e-9


class Order(Struct, frozen=True):
    """An order of controls, by number from 0 for the first.

    kind          how it is made up
    rows          a visit each: its blocks, one control each
    n_block       counted attempts of a block
    even          whether practice and tiredness that grow steadily fall on all alike
    even_curved   whether such do that grow ever faster or slower
    both_ways     whether each comes straight after each other as often as the other way around
    balanced      whether each stands in each place of a visit, and straight after each other one, as often as any
    """

    kind: Kind
    rows: tuple[tuple[int, ...], ...]
    n_block: int
    even: bool
    even_curved: bool
    both_ways: bool
    balanced: bool

    @property
    def n_each(self) -> tuple[int, ...]:
        """Counted attempts with each control over all visits."""
        in_order = [method for row in self.rows for method in row]
        return tuple(in_order.count(method) * self.n_block for method in sorted({*in_order}))

    @property
    def n_alternations(self) -> int:
        """How often two controls were tried beside each other: the fewest blocks of one of them."""
        in_order = [method for row in self.rows for method in row]
        return min((in_order.count(method) for method in {*in_order}), default=0)


def order_for(n_methods: int, n_visits: int, visit: Visit, twice: bool = False) -> Order:
    """The fairest order of controls that the visits hold.

    n_methods  controls to compare, 1 to 26
    n_visits   visits for the comparison, at least 1
    visit      how the time of each goes
    twice      whether two controls may come twice in a visit: both are mounted at once, and nothing tires so that a
               rest has to lie between

    Raises ValueError naming the argument and its value.

    Source: rows of a square of Williams 1949, each with its mirror; two alternate from visit to visit, near optimal for
            one person under all models tried (Carriere et al. 2015, abstract).
    Check:  2 visits of 45 minutes: two controls AB BA, 7 attempts a block; both mounted ABBA BAAB, 3; three ABC CBA, 3
            a block, which is no comparison; four none. 3 visits: three controls AB BC CA.
    """
    count("n_methods", n_methods, low=1)
    count("n_visits", n_visits, low=1)
    n_block = attempts_a_block(visit, n_methods)
    if n_methods == 1:
        return _order("alone", ((0,),) * n_visits, n_block)
    if n_methods == 2:
        forward, back = mirrored((0, 1))
        n_of_four = attempts_a_block(visit, 4)
        if twice and n_of_four * 2 >= LEAST_A_BLOCK:
            return _order("two_twice", _alternating((*forward, *back), n_visits), n_of_four)
        return _order("two", _alternating(forward, n_visits), n_block)
    if n_methods == 3 and n_block < LEAST_A_BLOCK and n_visits % 3 == 0:
        pairs = ((0, 1), (1, 2), (2, 0))
        both = (*pairs, *(pair[::-1] for pair in reversed(pairs)))
        return _order("two_of_three", tuple(both[at % 6] for at in range(n_visits)), attempts_a_block(visit, 2))
    rows = _with_mirrors(n_methods)
    in_visits = tuple(rows[at % len(rows)] for at in range(n_visits))
    if n_block >= LEAST_A_BLOCK:
        return _order("all", in_visits, n_block)
    return _order("sieve", in_visits, n_block) if n_methods == 3 else _order("none", (), 0)


def _alternating(row: tuple[int, ...], n_visits: int) -> tuple[tuple[int, ...], ...]:
    turned = tuple(1 - method for method in row)
    return tuple(row if at % 2 == 0 else turned for at in range(n_visits))


def _with_mirrors(n_methods: int) -> tuple[tuple[int, ...], ...]:
    """The rows of a square so that each is followed by its mirror."""
    rows: dict[tuple[int, ...], None] = {}
    for row in square(n_methods):
        rows |= dict.fromkeys(mirrored(row))
    return tuple(rows)


def _order(kind: Kind, rows: tuple[tuple[int, ...], ...], n_block: int) -> Order:
    """An order with what it balances, worked out from its rows; none where no block holds an attempt."""
    if n_block < 1:
        return Order("none", (), 0, False, False, False, False)
    after = followers(rows)
    return Order(
        kind,
        rows,
        n_block,
        all(abs(lean) < _EVEN for lean in leans(rows, float).values()),
        all(abs(lean) < _EVEN for lean in leans(rows, lambda at: at * at).values()),
        all(after[pair] == after[pair[::-1]] for pair in after),
        is_balanced(rows),
    )
