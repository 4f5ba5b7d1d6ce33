"""Times in seconds: the middle one with its interval, and two methods' times compared as a ratio."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence

from msgspec import Struct

from docgen.evidence.checked import number, numbers, share
from docgen.evidence.special import binomial_cdf
from docgen.evidence.student import student_t_quantile

CONOVER = "sign test interval, Conover 1999 (from memory)"  # of the interval of a median


class Median(Struct, frozen=True):
    """Median of n values. low and high are values seen, None when n is too small for the level.

    coverage  confidence that the interval really has, at least the level asked for
    rank      low is the rank-th smallest value, high the rank-th largest
    """

    n: int
    median: float
    low: float | None
    high: float | None
    coverage: float | None
    rank: int | None


class TimeRatio(Struct, frozen=True):
    """Geometric mean of the first times over that of the second.

    low and high are None, with the reason in `why`, when the times cannot show their spread.
    """

    ratio: float
    low: float | None
    high: float | None
    df: float | None
    level: float
    why: str


def median_interval(values: Sequence[float], level: float = 0.95) -> Median:
    """Median of the values, in their unit, with an interval that assumes no distribution.

    values  at least one, in any order
    level   two-sided confidence, strictly between 0 and 1

    The interval runs between two of the values themselves, as close to the middle as the level allows, the
    same number of places from each end. At 95 % it needs 6 values; with fewer its limits are None.
    Raises ValueError naming the argument and its value.

    Source: sign test interval, e.g. Conover 1999, Practical Nonparametric Statistics, chapter 3 (from
            memory).
    Check:  at 95 %: n 6 smallest and largest, 0.9688; n 10 second from each end, 0.9785; n 20 sixth, 0.9586
            (binomial tables).
    """
    ordered = sorted(numbers("values", values))
    if not ordered:
        raise ValueError(f"values must hold at least one value, not {values!r}")
    n, tail = len(ordered), (1 - share("level", level)) / 2
    middle = statistics.median(ordered)
    # the median lies outside when fewer than `rank` values fall on one of its sides
    rank = _largest_rank(n, tail)
    if rank == 0:
        return Median(n, middle, None, None, None, None)
    coverage = 1 - 2 * binomial_cdf(rank - 1, n, 0.5)
    return Median(n, middle, ordered[rank - 1], ordered[n - rank], coverage, rank)


def ratio_of_geometric_means(first: Sequence[float], second: Sequence[float], level: float = 0.95) -> TimeRatio:
    """How many times as long the first method takes as the second, with an interval.

    first, second  times of each method, each more than 0, in the same unit; at least one of each
    level          two-sided confidence, strictly between 0 and 1

    Times are compared on the log scale, where a few slow ones weigh less. The spreads may differ. Without two
    times of each method, or with no spread at all, there is a ratio but no interval.
    Raises ValueError naming the argument and its value.

    Source: Welch 1947, Biometrika 34:28-35, on logs (from memory).
    Check:  1, 10 against 1, 1, 100: ratio 10^(1/2 - 2/3) = 0.681292 (by hand); intervals against a statistics
            library in the tests.
    """
    logs = []
    for name, values in (("first", first), ("second", second)):
        times = numbers(name, values)
        if not times:
            raise ValueError(f"{name} must hold at least one time, not {values!r}")
        logs.append([math.log(number(f"{name}[{place}]", t, above=0)) for place, t in enumerate(times)])
    share("level", level)
    apart = statistics.fmean(logs[0]) - statistics.fmean(logs[1])
    ratio = math.exp(apart)
    if min(map(len, logs)) < 2:
        return TimeRatio(ratio, None, None, None, level, "fewer than 2 times with one of the methods")
    squares = [statistics.variance(values) / len(values) for values in logs]
    total = sum(squares)
    if total < 1e-24:
        return TimeRatio(ratio, None, None, None, level, "all times of each method are the same")
    df = total**2 / sum(square**2 / (len(values) - 1) for square, values in zip(squares, logs, strict=True))
    half = student_t_quantile(0.5 + level / 2, df) * math.sqrt(total)
    if half > 50:
        return TimeRatio(ratio, None, None, df, level, "times too few and scattered to bound the ratio")
    return TimeRatio(ratio, math.exp(apart - half), math.exp(apart + half), df, level, "")


def _largest_rank(n: int, tail: float) -> int:
    """Largest rank whose interval leaves at most `tail` on each side; 0 when none does."""
    low, high = 0, n // 2 + 1
    while high - low > 1:
        rank = (low + high) // 2
        if binomial_cdf(rank - 1, n, 0.5) <= tail:
            low = rank
        else:
            high = rank
    return low
