"""Release times: how slow letting go may be, for choosing a speed that still stops in time.

A mean is no use here: half of all releases are slower. What is wanted is an upper tolerance bound, a time
that a stated share of all releases stays under, with stated confidence.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from statistics import NormalDist
from typing import Literal

from msgspec import Struct

from docgen.evidence.checked import count, numbers, share
from docgen.evidence.special import binomial_cdf
from docgen.evidence.student import noncentral_t_quantile

COVERAGE = 0.95  # share of all releases that the bound is to cover
CONFIDENCE = 0.95  # confidence that it does
SLOWEST_BOUND_S = 3600.0  # a bound beyond an hour only says that the times are scattered
FEWEST = 5  # below this the factor is above 5 and the bound tells of the sample size, not of the driver

_NORMAL = NormalDist()


class ReleaseBound(Struct, frozen=True):
    """Upper bound on release times in seconds, and how it was reached.

    upper_s    None when no bound can be stood for; `why` then says the reason
    slowest_s  slowest release seen, whatever the bound; None only when nothing was recorded
    method     ranked: one of the times themselves, no distribution assumed; lognormal: mean and spread of
               logs; slowest: the lognormal bound fell below a time seen, so that time stands; none
    factor     tolerance factor of the lognormal bound
    rank       place of the ranked bound among the times, 1 for the fastest
    why        one clause on the choice
    """

    upper_s: float | None
    slowest_s: float | None
    n: int
    method: Literal["ranked", "lognormal", "slowest", "none"]
    coverage: float
    confidence: float
    factor: float | None
    rank: int | None
    why: str


def tolerance_factor(n: int, coverage: float = COVERAGE, confidence: float = CONFIDENCE) -> float:
    """One-sided tolerance factor k: mean + k standard deviations lies above `coverage` of a population.

    n           sample size, from 2 to 100,000
    coverage    share of the population, strictly between 0 and 1
    confidence  confidence that the share is covered, strictly between 0 and 1

    Exact for a normal population. Raises ValueError naming the argument and its value.

    Source: quantile of the noncentral t; Odeh and Owen 1980, Tables for Normal Tolerance Limits (from
            memory).
    Check:  0.95/0.95: n 3 7.656, n 5 4.203, n 10 2.911, n 20 2.396, n 30 2.220, n 50 2.065 (published tables,
            from memory); n 43, 0.90/0.99: 1.8740 (NIST/SEMATECH handbook 7.2.6.3, from memory).
    """
    n, z = count("n", n, 2, 100_000), _NORMAL.inv_cdf(share("coverage", coverage))
    return noncentral_t_quantile(share("confidence", confidence), n - 1, z * math.sqrt(n)) / math.sqrt(n)


def smallest_n(coverage: float = COVERAGE, confidence: float = CONFIDENCE) -> int:
    """Fewest values for the largest of them to be an upper tolerance bound, whatever the distribution.

    coverage    share of the population, strictly between 0 and 1
    confidence  confidence that the share is covered, strictly between 0 and 1

    Raises ValueError naming the argument and its value.

    Source: 1 - coverage^n >= confidence; Wilks 1941, Ann Math Stat 12:91-96 (from memory).
    Check:  0.95/0.95 59; 0.90/0.95 29; 0.90/0.90 22; 0.99/0.95 299; 0.95/0.90 45 (published tables, from
            memory).
    """
    exact = math.log1p(-share("confidence", confidence)) / math.log(share("coverage", coverage))
    return math.ceil(exact * (1 - 1e-12))


def bound_rank(n: int, coverage: float = COVERAGE, confidence: float = CONFIDENCE) -> int | None:
    """Place, counted from the smallest, of the lowest of n values that is an upper tolerance bound.

    n           sample size, at least 1
    coverage    share of the population, strictly between 0 and 1
    confidence  confidence that the share is covered, strictly between 0 and 1

    Returns None when even the largest value is not one, n being less than smallest_n.
    Raises ValueError naming the argument and its value.

    Source: as smallest_n, with the binomial count of values under the bound.
    Check:  0.95/0.95: 59 of 59, 92 of 93, 122 of 124 (published tables, from memory).
    """
    n, coverage, confidence = count("n", n, 1), share("coverage", coverage), share("confidence", confidence)
    if binomial_cdf(n - 1, n, coverage) < confidence:
        return None
    low, high = 0, n
    while high - low > 1:
        rank = (low + high) // 2
        low, high = (low, rank) if binomial_cdf(rank - 1, n, coverage) >= confidence else (rank, high)
    return high


def release_bound(times_s: Sequence[float], coverage: float = COVERAGE, confidence: float = CONFIDENCE) -> ReleaseBound:
    """Upper tolerance bound on a driver's release times, in seconds, with the reason for its form.

    times_s     release times in seconds, each at least 0, in any order, all under one method and setting; may
                be empty
    coverage    share of all releases to stay under the bound, strictly between 0 and 1
    confidence  confidence that it does, strictly between 0 and 1

    With enough times (59 at 0.95/0.95) the bound is one of the times and assumes no distribution. With fewer,
    but at least 5, it is lognormal, and never below the slowest time seen. With fewer still, or with times
    that show no spread, there is no bound: the slowest time is all that can be reported. Times of one session
    are alike, so a bound from a single session is too low.
    Raises ValueError naming the argument and its value.

    Source: tolerance_factor on the logs, bound_rank; the least of 5 is common practice, no source.
    Check:  logs 0.1, 0.2, 0.3, 0.4, 0.5 at 0.95/0.95: exp(0.3 + 4.203 x 0.158114) = 2.624 (by hand, with the
            published factor).
    """
    share("coverage", coverage), share("confidence", confidence)
    times = sorted(numbers("times_s", times_s, low=0))
    n, slowest = len(times), times[-1] if times else None

    def bound(
        upper: float | None,
        method: Literal["ranked", "lognormal", "slowest", "none"],
        why: str,
        factor: float | None = None,
        rank: int | None = None,
    ) -> ReleaseBound:
        return ReleaseBound(upper, slowest, n, method, coverage, confidence, factor, rank, why)

    if slowest is None:
        return bound(None, "none", "no release time was recorded")
    rank = bound_rank(n, coverage, confidence)
    if rank is not None:
        return bound(times[rank - 1], "ranked", f"{n} times are enough to need no distribution", rank=rank)
    if n < FEWEST:
        return bound(None, "none", f"{n} of the {FEWEST} release times that a bound needs")
    if times[0] == 0:
        return bound(None, "none", "a release of 0 s was recorded, which no log scale takes")
    if times[0] == times[-1]:
        return bound(None, "none", f"all {n} release times are the same, so their spread cannot be judged")
    logs = [math.log(time) for time in times]
    factor = tolerance_factor(n, coverage, confidence)
    log_upper = statistics.fmean(logs) + factor * statistics.stdev(logs)
    need = smallest_n(coverage, confidence)
    if log_upper > math.log(SLOWEST_BOUND_S):
        return bound(None, "none", f"the {n} release times are too scattered for a bound", factor)
    upper = math.exp(log_upper)
    if upper < slowest:
        return bound(slowest, "slowest", "the lognormal bound lies below a time that was seen", factor)
    return bound(upper, "lognormal", f"{n} times; fewer than the {need} that need no distribution", factor)
