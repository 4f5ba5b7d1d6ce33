"""How often two controls that are equally good come out of a trial as far apart as they did here."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import lru_cache

from docgen.evidence.checked import count, number


@lru_cache(maxsize=256, typed=True)  # a case is asked in several states, and few differ in their counts
def chance_as_far_apart(n_1: int, n_2: int, true_share: float, apart: Fraction) -> float:
    """Chance that two controls with one true share of successful attempts differ by at least so much, either way round.

    n_1, n_2    attempts with each, at least 1
    true_share  share done with either, from 0 to 1
    apart       difference of the shares seen, as an exact fraction from 0 to 1

    Raises ValueError naming the argument and its value.

    Source: the exact sum over two independent binomials.
    Check:  10 attempts each at 0.8 differ by 15 points or more in 0.394 of trials and by 30 or more in 0.157; 20 each
    in
            0.320 and 0.029; 8 each in 0.339 and 0.112 (sums with scipy.stats.binom).
    """
    n_1, n_2, true_share = count("n_1", n_1, 1), count("n_2", n_2, 1), number("true_share", true_share, 0, high=1)
    if not 0 <= apart <= 1:
        raise ValueError(f"apart must be from 0 to 1, not {apart!r}")
    if apart == 0:
        return 1.0  # any two shares differ by 0 or more
    first, second = chances_of_each(n_1, true_share), chances_of_each(n_2, true_share)
    up_to = [0.0]  # chance of fewer than k with the second control
    for chance in second:
        up_to.append(up_to[-1] + chance)
    total = 0.0
    for k_1, chance in enumerate(first):
        # k_2 / n_2 at most k_1 / n_1 - apart, or at least k_1 / n_1 + apart, without rounding
        most = math.floor((Fraction(k_1, n_1) - apart) * n_2)
        least = math.ceil((Fraction(k_1, n_1) + apart) * n_2)
        below = up_to[most + 1] if most >= 0 else 0.0
        above = up_to[-1] - up_to[least] if least <= n_2 else 0.0
        total += chance * (below + above)
    return min(1.0, total)


def chances_of_each(n: int, true_share: float) -> list[float]:
    """Chance of each number done of n attempts, from none to all.

    n           attempts, at least 1
    true_share  from 0 to 1

    Source: the binomial distribution.
    Check:  2 attempts at 0.5: 0.25, 0.5, 0.25; 10 at 0.9: all done in 0.3487.
    """
    if true_share in (0, 1):
        return [float(k == n * true_share) for k in range(n + 1)]
    odds, rest = math.log(true_share), math.log1p(-true_share)
    whole = math.lgamma(n + 1)
    return [
        math.exp(whole - math.lgamma(k + 1) - math.lgamma(n - k + 1) + k * odds + (n - k) * rest) for k in range(n + 1)
    ]
