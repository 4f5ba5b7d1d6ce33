"""Two proportions compared: independent attempts of two methods, or the same tasks done with both."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

from msgspec import Struct

from docgen.evidence.checked import count, share
from docgen.evidence.proportion import Proportion, wilson_interval

Words = Literal["clearly_better", "better_so_far", "not_told_apart", "worse_so_far", "clearly_worse"]

WORTH_SAYING = Fraction(15, 100)  # a difference of 15 points is named even when its interval includes zero
NEWCOMBE = "Newcombe 1998, Stat Med 17:873-890, method 10"  # of the interval of a difference
RARE = 0.05  # the usual limit of chance: common practice, no source
FEWEST_FOR_CLEARLY = 5  # a control used fewer times is never called clearly better or worse


class Difference(Struct, frozen=True):
    """A difference of two shares, first less second, -1 <= low <= difference <= high <= 1."""

    difference: float
    low: float
    high: float
    level: float


class FisherTest(Struct, frozen=True):
    """Exact p values: two-sided, first share greater than second, first share less than second."""

    two_sided: float
    greater: float
    less: float


class Verdict(Struct, frozen=True):
    """What may be said of the other method beside the chosen one.

    words           of the other method; "clearly" also needs that the comparison was fair, which the caller
                    judges
    difference      other less chosen
    too_few         the other method was used fewer than 5 times
    chosen_too_few  the chosen method was used fewer than 5 times
    """

    words: Words
    difference: Difference
    too_few: bool
    chosen_too_few: bool


def newcombe_interval(n_success_1: int, n_1: int, n_success_2: int, n_2: int, level: float = 0.95) -> Difference:
    """Difference of two independent shares, first less second, with the hybrid score interval.

    n_success_1, n_1  successes and attempts of the first method; n_1 at least 1
    n_success_2, n_2  of the second; n_2 at least 1
    level             two-sided confidence, strictly between 0 and 1

    The interval can exclude zero while Fisher's exact p is above 0.05 (6 of 7 against 2 of 7): a text never
    takes "significant" from one and the interval from the other without saying which.
    Raises ValueError naming the argument and its value.

    Source: Newcombe 1998, Stat Med 17:873-890, method 10.
    Check:  56/70 - 48/80: 0.2000 (0.0524 to 0.3339); 9/10 - 3/10: 0.6000 (0.1705 to 0.8090);
            10/10 - 0/20: 1 (0.6791 to 1) (Newcombe 1998, Table II).
    """
    first = _arm("1", n_success_1, n_1, level)
    second = _arm("2", n_success_2, n_2, level)
    return _hybrid(first, second, Fraction(n_success_1, n_1) - Fraction(n_success_2, n_2))


def fisher_exact(n_success_1: int, n_1: int, n_success_2: int, n_2: int) -> FisherTest:
    """Exact p values for equal success of two independent methods, given all four margins.

    n_success_1, n_1  successes and attempts of the first method
    n_success_2, n_2  of the second

    The two-sided p adds every table no likelier than the one seen (within 1e-7, so that ties count as ties).
    Raises ValueError naming the argument and its value.

    Source: Fisher 1935, The Design of Experiments; two-sided rule as in general statistics libraries.
    Check:  tea tasting, 3 of 4 and 1 of 4: greater 17/70 = 0.2429, two-sided 34/70 (Agresti 2002, p. 91).
    """
    n_1, n_2 = count("n_1", n_1), count("n_2", n_2)
    seen = count("n_success_1", n_success_1, 0, n_1)
    n_success = seen + count("n_success_2", n_success_2, 0, n_2)
    mode = (n_1 + 1) * (n_success + 1) // (n_1 + n_2 + 2)
    weights = {mode: 1.0}  # of each first count, against the likeliest one; 0 beyond the last that the margins allow
    k = mode
    while weights[k] > 0:
        weights[k + 1] = weights[k] * ((n_1 - k) * (n_success - k) / ((k + 1) * (n_2 - n_success + k + 1)))
        k += 1
    k = mode
    while weights[k] > 0:
        weights[k - 1] = weights[k] * (k * (n_2 - n_success + k) / ((n_1 - k + 1) * (n_success - k + 1)))
        k -= 1
    total = math.fsum(weights.values())
    limit = weights.get(seen, 0.0) * (1 + 1e-7)
    return FisherTest(
        two_sided=math.fsum(w for w in weights.values() if w <= limit) / total,
        greater=math.fsum(w for k, w in weights.items() if k >= seen) / total,
        less=math.fsum(w for k, w in weights.items() if k <= seen) / total,
    )


def verdict(chosen: Proportion, other: Proportion, level: float = 0.95) -> Verdict:
    """What the successes let one say of the other method beside the chosen one.

    chosen  successes and attempts of the chosen method
    other   of the method compared with it
    level   two-sided confidence of the difference, strictly between 0 and 1

    "clearly" when the interval of the difference excludes zero and each method was used at least 5 times;
    "so far" when not, but the difference is 15 points or more; else "not_told_apart".
    Raises ValueError naming the argument and its value.

    Source: common practice, no source; the interval is newcombe_interval.
    Check:  32 of 38 chosen, 4 of 16 other: clearly_worse, -0.59 (-0.76 to -0.31); 4 of 10 chosen, 8 of 10
            other: better_so_far, 0.40 (-0.02 to 0.67) (worked clinical examples, no published source).
    """
    compared = newcombe_interval(other.n_success, other.n, chosen.n_success, chosen.n, level)
    too_few, chosen_too_few = other.n < FEWEST_FOR_CLEARLY, chosen.n < FEWEST_FOR_CLEARLY
    exact = Fraction(other.n_success, other.n) - Fraction(chosen.n_success, chosen.n)
    words: Words = "not_told_apart"
    if (compared.low > 0 or compared.high < 0) and not too_few and not chosen_too_few:
        words = "clearly_better" if compared.low > 0 else "clearly_worse"
    elif abs(exact) >= WORTH_SAYING:
        words = "better_so_far" if exact > 0 else "worse_so_far"
    return Verdict(words, compared, too_few, chosen_too_few)


def _arm(which: str, n_success: int, n: int, level: float) -> Proportion:
    count(f"n_{which}", n, 1)
    count(f"n_success_{which}", n_success, 0, n)
    return wilson_interval(n_success, n, share("level", level))


def _hybrid(first: Proportion, second: Proportion, exact: Fraction) -> Difference:
    """Newcombe's square-and-add of two score intervals."""
    difference = float(exact)
    down = _added(first.share - first.low, second.high - second.share)
    up = _added(first.high - first.share, second.share - second.low)
    return Difference(difference, difference - down, difference + up, first.level)


def _added(first: float, second: float) -> float:
    return math.sqrt(first * first + second * second)
