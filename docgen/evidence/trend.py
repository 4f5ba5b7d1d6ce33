"""Change over time: slope through all pairs, overlap of two phases."""

from __future__ import annotations

import math
import statistics
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from operator import itemgetter
from statistics import NormalDist
from typing import Literal

from msgspec import Struct

from docgen.evidence.checked import SMALLEST, numbers, series, share
from docgen.evidence.kendall import EXACT_UP_TO, NORMAL_FROM, concordance, kendall_test, orders_by_inversions
from docgen.evidence.time import median_interval

ALL_PAIRS_UP_TO = 1_000

_NORMAL = NormalDist()


class Trend(Struct, frozen=True):
    """Slope in units of y per unit of x; low and high are None when the points cannot bound it.

    intercept  median of y less slope times median of x
    method     all_pairs, or half_pairs for more than 1,000 points
    exact      whether the interval rests on an exact count; then coverage is at least the level
    """

    n: int
    slope: float
    low: float | None
    high: float | None
    level: float
    coverage: float | None
    intercept: float
    method: Literal["all_pairs", "half_pairs"]
    exact: bool


class Overlap(Struct, frozen=True):
    """How far a second phase stands clear of the first, over all pairs of one value from each.

    nap     share of pairs in which the second phase is better, ties counting half; 0.5 is no difference
    tau     (better - worse) / pairs = 2 nap - 1
    tau_u   (better - worse - S of the first phase over time) / pairs; not bound to -1 to 1
    nap_se  standard error of nap when there is no difference
    """

    n_first: int
    n_second: int
    n_better: int
    n_tied: int
    n_worse: int
    nap: float
    tau: float
    tau_u: float
    nap_se: float


def theil_sen(x: Sequence[float], y: Sequence[float], level: float = 0.95) -> Trend:
    """Slope of y over x as the median slope of pairs, with an interval.

    x, y   the same number of values, at least 2; x must not all be the same
    level  two-sided confidence, strictly between 0 and 1

    Up to 1,000 points every pair with different x counts, and the interval comes from Kendall's S: exact up
    to 60 points without ties, else normal with ties allowed for (from 10 points on). Beyond 1,000 points, to
    stay fast, each point is paired only with the one half the series further on, in order of x (Theil's
    incomplete method); those slopes are independent and the interval is that of their median. Limits are None
    where the points are too few.
    Raises ValueError naming the argument and its value.

    Source: Sen 1968, J Am Stat Assoc 63:1379-1389; Theil 1950 (both from memory).
    Check:  x 1 to 5, y 1.26, 1.27, 1.12, 1.16, 1.03: slope -0.05625, intercept 1.32875, at 95 % -0.15
            to 0.04, at 90 % -0.13 to 0.01 (data of Hollander, Wolfe and Chicken, ex. 9.1).
    """
    x, y = series(x, y)
    if max(x) - min(x) < 1e-9:
        raise ValueError(f"x must not all be the same, not {x[0]!r} to {x[-1]!r}")
    share("level", level)
    slopes_of = _half_pairs if len(x) > ALL_PAIRS_UP_TO else _all_pairs
    return slopes_of(x, y, level)


def _all_pairs(x: list[float], y: list[float], level: float) -> Trend:
    n, points = len(x), sorted(zip(x, y, strict=True))
    pairs = ((here, there) for i, here in enumerate(points) for there in points[i + 1 :])
    slopes = sorted(_slopes(pairs))
    exact = n <= EXACT_UP_TO and len(slopes) == math.comb(n, 2) and len(set(y)) == n
    rank, coverage = _exact_rank(n, level) if exact else (_normal_rank(x, y, len(slopes), level), level)
    slope = statistics.median(slopes)
    intercept = statistics.median(y) - slope * statistics.median(x)
    if rank == 0:
        return Trend(n, slope, None, None, level, None, intercept, "all_pairs", exact)
    return Trend(n, slope, slopes[rank - 1], slopes[-rank], level, coverage, intercept, "all_pairs", exact)


def _half_pairs(x: list[float], y: list[float], level: float) -> Trend:
    n, half = len(x), len(x) // 2
    points = sorted(zip(x, y, strict=True), key=itemgetter(0))
    pairs = zip(points[:half], points[n - half :], strict=True)
    slope = median_interval(_slopes(pairs), level)
    intercept = statistics.median(y) - slope.median * statistics.median(x)
    return Trend(n, slope.median, slope.low, slope.high, level, slope.coverage, intercept, "half_pairs", True)


def _slopes(pairs: Iterable[tuple[tuple[float, float], tuple[float, float]]]) -> list[float]:
    """Slopes of the pairs that stand apart in x."""
    return [(y2 - y1) / (x2 - x1) for (x1, y1), (x2, y2) in pairs if x2 - x1 > SMALLEST]


def overlap(first: Sequence[float], second: Sequence[float], higher_is_better: bool = True) -> Overlap:
    """Nonoverlap of all pairs between two phases, with tau and baseline-corrected Tau-U.

    first, second     values of each phase in order of time, at least one of each
    higher_is_better  False for times, contacts and the like

    Several statistics go by the name of Tau-U. This one is (S_AB - S_A) / (m n): pairs between the phases,
    less the trend inside the first; a text that prints it names the formula.
    Raises ValueError naming the argument and its value.

    Source: NAP Parker and Vannest 2009, Behav Ther 40:357-367; Tau-U Parker, Vannest, Davis and Sauber 2011,
            Behav Ther 42:284-299.
    Check:  20, 20, 26, 25, 22, 23 then 28, 25, 24, 27, 30, 30, 29: NAP 38.5/42, tau 35/42 (Parker, Vannest
            and Davis 2011), Tau-U 31/42; 3, 3, 4, 5 then 4, 5, 6, 7, 7: Tau-U 11/20; 1 to 5 then 6 to 10:
            0.6.
    """
    sign = 1 if higher_is_better else -1
    a = [sign * value for value in numbers("first", first)]
    b = sorted(sign * value for value in numbers("second", second))
    if not a or not b:
        name, values = ("first", first) if not a else ("second", second)
        raise ValueError(f"{name} must hold at least one value, not {values!r}")
    m, n = len(a), len(b)
    worse = sum(bisect_left(b, value) for value in a)
    better = sum(n - bisect_right(b, value) for value in a)
    tied = m * n - worse - better
    trend = concordance(range(m), a)
    return Overlap(
        m,
        n,
        better,
        tied,
        worse,
        (better + tied / 2) / (m * n),
        (better - worse) / (m * n),
        (better - worse - trend) / (m * n),
        math.sqrt((1 / m + 1 / n + 1 / (m * n)) / 12),
    )


def _exact_rank(n: int, level: float) -> tuple[int, float]:
    """Largest rank whose two slopes bound the true one, and the coverage that has; 0 when none does.

    The true slope lies below the rank-th smallest when fewer than `rank` pairs are out of order about it.
    """
    orders = orders_by_inversions([1] * n)
    rank = bisect_right(orders, (1 - level) / 2 * orders[-1], hi=len(orders) // 2)
    return rank, 1 - 2 * orders[rank - 1] / orders[-1] if rank else 0.0


def _normal_rank(x: list[float], y: list[float], n_slopes: int, level: float) -> int:
    if len(x) < NORMAL_FROM:
        return 0
    z = -_NORMAL.inv_cdf((1 - level) / 2)
    return max(0, math.floor((n_slopes - z * math.sqrt(kendall_test(x, y).var_s)) / 2))
