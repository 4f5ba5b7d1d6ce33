"""Kendall's S, pairs that agree less pairs that disagree: does one series rise with another?

The p value is exact where the counting is: at most 60 values, and ties in at most one of the two series. Two
groups are a series with ties, so the same count gives the exact test of one phase against another.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import accumulate
from statistics import NormalDist

from msgspec import Struct

from docgen.evidence.checked import series

EXACT_UP_TO = 60
NORMAL_FROM = 10  # below this the normal form misleads

_NORMAL = NormalDist()


class Kendall(Struct, frozen=True):
    """S with its test. tau_b is None when a series does not vary.

    z            with continuity correction; None when S cannot vary
    p_two_sided  None when neither the exact nor the normal form can be stood for
    p_upper      one-sided, for S this large or larger; None likewise
    """

    n: int
    s: int
    tau_b: float | None
    var_s: float
    z: float | None
    p_two_sided: float | None
    p_upper: float | None
    exact: bool


def kendall_test(x: Sequence[float], y: Sequence[float]) -> Kendall:
    """Kendall's S between x and y, with tau-b and the p values for no relation.

    x, y  the same number of values, at least 2

    With ties in both series, or more than 60 values, the p values are normal with continuity correction; with
    ties in both and fewer than 10 values they are None.
    Raises ValueError naming the argument and its value.

    Source: Kendall 1970, Rank Correlation Methods; Mann 1945, Econometrica 13:245-259; ties as Kendall 1970;
            S counted as Knight 1966, J Am Stat Assoc 61:436-439 (from memory).
    Check:  y 1.26, 1.27, 1.12, 1.16, 1.03 over time: S -6, exact p 0.233333 (data of Hollander, Wolfe and
            Chicken, ex. 9.1); Kendall 1970 ex. 3.1: S 33, tau-b 0.859.
    """
    x, y = series(x, y)
    n, s = len(x), concordance(x, y)
    ties_x, ties_y = _ties(x), _ties(y)
    pairs = n * (n - 1) // 2
    free_x, free_y = (pairs - sum(t * (t - 1) // 2 for t in ties) for ties in (ties_x, ties_y))
    tau_b = s / math.sqrt(free_x * free_y) if free_x and free_y else None
    var_s = _variance(n, ties_x, ties_y)
    z = (s - (s > 0) + (s < 0)) / math.sqrt(var_s) if var_s > 0 else None
    one_tied = max(ties_x) == 1 or max(ties_y) == 1
    if one_tied and n <= EXACT_UP_TO:
        lower, upper = _exact_tails(s, ties_y if max(ties_x) == 1 else ties_x)
        return Kendall(n, s, tau_b, var_s, z, min(1.0, 2 * min(lower, upper)), upper, True)
    if n < NORMAL_FROM:
        return Kendall(n, s, tau_b, var_s, z, None, None, False)
    if z is None:
        return Kendall(n, s, tau_b, var_s, z, 1.0, 1.0, False)
    p_upper = _NORMAL.cdf(-(s - 1) / math.sqrt(var_s))
    return Kendall(n, s, tau_b, var_s, z, 2 * _NORMAL.cdf(-abs(z)), p_upper, False)


def concordance(x: Sequence[float], y: Sequence[float]) -> int:
    """S: pairs in which x and y rise together less pairs in which one rises and the other falls.

    x, y  the same number of values; tied pairs count 0

    Time grows as n log n. Source: Knight 1966, J Am Stat Assoc 61:436-439 (from memory).
    Check:  10, 15, 14, 20 over time: 4 (Gilbert 1987, sec. 16.4, from memory).
    """
    both = sorted(zip(x, y, strict=True))
    n = len(both)
    tied_x = _tied_pairs(a for a, _ in both)
    tied_y = _tied_pairs(b for _, b in both)
    tied_both = _tied_pairs(both)
    against = _inversions([b for _, b in both])
    return n * (n - 1) // 2 - tied_x - tied_y + tied_both - 2 * against


def orders_by_inversions(ties: Iterable[int]) -> list[int]:
    """Number of orders of one series that have at most 0, 1, 2, ... inversions against an untied series.

    ties  sizes of the groups of equal values, 1 for a value alone

    The last entry is the number of all orders; S is the untied pairs less twice the inversions. The counts
    are the coefficients of the Gaussian multinomial: the product of 1 - q^k for k up to n over the same for
    every group.

    Source: Kendall 1970 for the untied case; MacMahon's count of inversions of a multiset (from memory).
    Check:  untied n 5, P(S >= 8) = 5 / 120 = 0.0417; n 10, P(S >= 21) = 0.0363 (Kendall's table, from
            memory).
    """
    ties = list(ties)
    pairs = math.comb(sum(ties), 2) - sum(math.comb(t, 2) for t in ties)
    ways = [1] + [0] * pairs
    done = 0
    for size in ties:
        for k in range(1, size + 1):
            done += 1
            for place in range(pairs, done - 1, -1):  # times 1 - q^done
                ways[place] -= ways[place - done]
            for place in range(k, pairs + 1):  # over 1 - q^k
                ways[place] += ways[place - k]
    return list(accumulate(ways))


def _exact_tails(s: int, ties: list[int]) -> tuple[float, float]:
    """P(S <= s) and P(S >= s); S has a symmetric distribution."""
    orders = orders_by_inversions(ties)
    pairs = len(orders) - 1
    return orders[(pairs + s) // 2] / orders[-1], orders[(pairs - s) // 2] / orders[-1]


def _variance(n: int, ties_x: list[int], ties_y: list[int]) -> float:
    """Null variance of S with ties in either series (Kendall 1970)."""

    def third(t: int) -> int:
        return t * (t - 1) * (2 * t + 5)

    variance = (third(n) - sum(map(third, ties_x)) - sum(map(third, ties_y))) / 18
    twos = [sum(t * (t - 1) for t in ties) for ties in (ties_x, ties_y)]
    threes = [sum(t * (t - 1) * (t - 2) for t in ties) for ties in (ties_x, ties_y)]
    variance += twos[0] * twos[1] / (2 * n * (n - 1))
    return variance + (threes[0] * threes[1] / (9 * n * (n - 1) * (n - 2)) if n > 2 else 0.0)


def _ties(values: Iterable[object]) -> list[int]:
    return list(Counter(values).values())


def _tied_pairs(values: Iterable[object]) -> int:
    return sum(size * (size - 1) // 2 for size in Counter(values).values())


def _inversions(values: list[float]) -> int:
    """Pairs out of order, counted while merging."""
    swaps, width, n = 0, 1, len(values)
    while width < n:
        merged: list[float] = []
        for start in range(0, n, 2 * width):
            left, right = values[start : start + width], values[start + width : start + 2 * width]
            i = j = 0
            while i < len(left) and j < len(right):
                if right[j] < left[i]:
                    swaps += len(left) - i
                    merged.append(right[j])
                    j += 1
                else:
                    merged.append(left[i])
                    i += 1
            merged += left[i:] or right[j:]
        values, width = merged, 2 * width
    return swaps
