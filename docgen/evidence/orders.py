"""Orders in which methods are tried, so that no one of them gains by its place or by what it follows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import TypeVar

from docgen.evidence.checked import count

Method = TypeVar("Method")
WILLIAMS = "Williams 1949, Aust J Sci Res A 2:149-168"
MOST_METHODS = 26


def square(n: int) -> tuple[tuple[int, ...], ...]:
    """Rows of numbers 0 to n - 1, one row a visit or a person: each number stands in each place as often as any other,
    and follows each other one as often, within a row.

    n  methods, 1 to 26; an even n gives n rows, an odd one 2 n, the second half of which is the first reversed

    Raises ValueError naming the argument and its value.

    Source: as `WILLIAMS`; the first row is 0, 1, n - 1, 2, n - 2, ...
    Check:  4: 0132 1203 2310 3021 (as printed ABDC BCAD CDBA DACB).
    """
    count("n", n, low=1, high=MOST_METHODS)
    first = [0]
    for step in range(1, n):
        first.append(step // 2 + 1 if step % 2 else n - step // 2)
    rows = [tuple((number + shift) % n for number in first) for shift in range(n)]
    # of an even number the reverse of each row is a row already
    rows += [row[::-1] for row in rows]
    return tuple(dict.fromkeys(rows))


def mirrored(methods: Sequence[Method]) -> tuple[tuple[Method, ...], tuple[Method, ...]]:
    """Two visits: the methods in this order, then in the other. Every method has the same mean place, and each pair is
    tried both ways; what a first or a last place gives is not balanced.

    Source: a row of a square and the one that is its reverse; all squares hold it.
    """
    forward = tuple(methods)
    return forward, forward[::-1]


def places(rows: Sequence[Sequence[Method]]) -> Counter[tuple[int, Method]]:
    """How often each method stands in each place, counted from 0."""
    return Counter((place, method) for row in rows for place, method in enumerate(row))


def followers(rows: Sequence[Sequence[Method]]) -> Counter[tuple[Method, Method]]:
    """How often each method comes straight after another, within a row: a night lies between two visits."""
    return Counter((before, after) for row in rows for before, after in zip(row, row[1:], strict=False))


def is_balanced(rows: Sequence[Sequence[Method]]) -> bool:
    """Whether each method stands in each place, and straight after each other one, as often as any."""
    methods = dict.fromkeys(method for row in rows for method in row)
    wanted = {(place, method) for place in range(len(methods)) for method in methods}
    pairs = {(before, after) for before in methods for after in methods if before != after}
    by_place, by_pair = places(rows), followers(rows)
    return (
        by_place.keys() == wanted
        and len({*by_place.values()}) == 1
        and by_pair.keys() == pairs
        and len({*by_pair.values()}) <= 1
    )


def leans(rows: Sequence[Sequence[Method]], trend: Callable[[int], float]) -> dict[Method, float]:
    """How much a trend over the blocks of all rows, one after another, favors each method: the mean of the trend over
    its blocks less the mean over all.

    trend  value at a block, counted from 0 over all rows

    Source: arithmetic.
    Check:  AB BA with the block's own number: 0 and 0, with its square +1 for A; AABB: -1 and +1 (by hand).
    """
    in_order = [method for row in rows for method in row]
    values: dict[Method, list[float]] = {method: [] for method in in_order}
    for at, method in enumerate(in_order):
        values[method].append(trend(at))
    middle = sum(map(trend, range(len(in_order)))) / len(in_order) if in_order else 0.0
    return {method: sum(own) / len(own) - middle for method, own in values.items()}
