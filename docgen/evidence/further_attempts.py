"""How many more attempts would tell two methods apart, if they go on as they have begun."""

from __future__ import annotations

import math
from statistics import NormalDist

from msgspec import Struct

from docgen.evidence.checked import count, number, share
from docgen.evidence.difference import FEWEST_FOR_CLEARLY

_NORMAL = NormalDist()


class FurtherAttempts(Struct, frozen=True):
    """Attempts still to make: n_per_method in all for each, less those already made, never below 0."""

    n_per_method: int
    further_1: int
    further_2: int
    alpha: float
    power: float


def attempts_per_method(share_1: float, share_2: float, alpha: float = 0.05, power: float = 0.80) -> float | None:
    """Attempts with each of two methods, unrounded, for a two-sided test to find their difference.

    share_1, share_2  true shares of success, from 0 to 1
    alpha             two-sided chance of finding a difference where there is none
    power             chance of finding the difference that there is, more than 0.5

    Returns None when the shares are equal: no number of attempts tells them apart.
    Raises ValueError naming the argument and its value.
    Normal approximation, pooled variance under no difference and separate variances under the difference, no
    continuity correction, equal numbers with each method.

    Source: Fleiss, Levin and Paik 2003, Statistical Methods for Rates and Proportions, chapter 4 (from
            memory).
    Check:  0.60 against 0.50, alpha 0.05, power 0.80: 388 each (387.3 unrounded, the usual textbook example).
    """
    share_1, share_2 = number("share_1", share_1, 0, high=1), number("share_2", share_2, 0, high=1)
    alpha, power = share("alpha", alpha), share("power", power)
    if power <= 0.5:
        raise ValueError(f"power must be more than 0.5, not {power!r}")
    if abs(share_1 - share_2) < 1e-15:
        return None
    middle = (share_1 + share_2) / 2
    none = math.sqrt(2 * middle * (1 - middle))
    apart = math.sqrt(share_1 * (1 - share_1) + share_2 * (1 - share_2))
    z_alpha, z_power = -_NORMAL.inv_cdf(alpha / 2), _NORMAL.inv_cdf(power)
    return ((z_alpha * none + z_power * apart) / (share_1 - share_2)) ** 2


def further_attempts(
    n_success_1: int, n_1: int, n_success_2: int, n_2: int, alpha: float = 0.05, power: float = 0.80
) -> FurtherAttempts | None:
    """Further attempts with each method, were the observed shares the true ones.

    n_success_1, n_1  successes and attempts so far with the first method; n_1 at least 1
    n_success_2, n_2  with the second; n_2 at least 1
    alpha             two-sided chance of finding a difference where there is none
    power             chance of finding the difference that there is, more than 0.5

    Returns None when the observed shares are equal. n_per_method is at least 5, since fewer uses never earn
    "clearly". A difference seen in few attempts is often larger than the
    true one, so the number is a lower guess for planning, not a promise.
    Raises ValueError naming the argument and its value.

    Source: attempts_per_method, rounded up; the least of 5 is common practice, no source.
    Check:  6 of 10 and 5 of 10: 388 each, so 378 further with each.
    """
    n_1, n_2 = count("n_1", n_1, 1), count("n_2", n_2, 1)
    n_success_1 = count("n_success_1", n_success_1, 0, n_1)
    n_success_2 = count("n_success_2", n_success_2, 0, n_2)
    needed = attempts_per_method(n_success_1 / n_1, n_success_2 / n_2, alpha, power)
    if needed is None:
        return None
    n = max(FEWEST_FOR_CLEARLY, math.ceil(needed))
    return FurtherAttempts(n, max(0, n - n_1), max(0, n - n_2), alpha, power)
