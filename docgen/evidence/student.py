"""Student's t, central and noncentral: distribution functions and quantiles."""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist

from docgen.evidence.checked import number, share
from docgen.evidence.solve import rising_root
from docgen.evidence.special import beta_log_odds

_NORMAL = NormalDist()
_NEGLIGIBLE = -42.0  # exp(-42) of the peak is below the last digit of the sum


def student_t_quantile(p: float, df: float) -> float:
    """The t at which P(T <= t) = p.

    p   strictly between 0 and 1
    df  degrees of freedom, more than 0, whole or not

    Raises ValueError naming the argument and its value.

    Source: root of Abramowitz and Stegun 26.7.1 (from memory).
    Check:  p 0.975: df 1 12.706, df 5 2.571, df 10 2.228, df 30 2.042 (any t table).
    """
    p, df = share("p", p), number("df", df, above=0)
    if p == 0.5:
        return 0.0
    beyond = 2 * min(p, 1 - p)
    return math.copysign(math.sqrt(df) * math.exp(-beta_log_odds(df / 2, 0.5, beyond) / 2), p - 0.5)


def noncentral_t_cdf(t: float, df: float, shift: float) -> float:
    """P(T <= t) for the noncentral t: a normal variable of mean `shift` over the root of chi-square / df.

    t      any finite number
    df     degrees of freedom, at least 1
    shift  noncentrality, from -2,000 to 2,000

    Raises ValueError naming the argument and its value. Absolute error below 1e-12.

    Given the scale u = sqrt(chi-square / df) the probability is normal, Phi(t u - shift). The mean of that
    over u is summed by equal steps in log u: for a smooth bell-shaped sum the trapezoidal rule gains digits
    faster than any power of the step (Trefethen and Weideman 2014, SIAM Rev 56:385-458, from memory).

    Source: definition of the noncentral t.
    Check:  shift 0 is Student's t; at t = 0 it is Phi(-shift); df 42, shift 8.4038, t 12.288: 0.99
            (behind the tolerance factor 1.8740 for n 43, NIST/SEMATECH handbook 7.2.6.3, from memory).
    """
    t, df = number("t", t), number("df", df, 1)
    shift = number("shift", shift, -2000, high=2000)
    step = 0.5 / math.sqrt(2 * df + (abs(shift) + 4) ** 2)
    weights = total = 0.0
    for side in (-step, step):
        place = 0.0 if side > 0 else side
        while (height := df * (place - math.expm1(2 * place) / 2)) > _NEGLIGIBLE:
            weight = math.exp(height)
            weights += weight
            total += weight * math.erfc((shift - t * math.exp(place)) / math.sqrt(2)) / 2
            place += side
    return total / weights


def noncentral_t_quantile(p: float, df: float, shift: float) -> float:
    """The t at which P(T <= t) = p for the noncentral t.

    p      strictly between 0 and 1
    df     degrees of freedom, at least 1
    shift  noncentrality, from -2,000 to 2,000

    Raises ValueError naming the argument and its value.

    Source: root of noncentral_t_cdf.
    Check:  p 0.95, df 9, shift 1.644854 sqrt(10): t = 2.911 sqrt(10), as in tables of one-sided tolerance
            factors (from memory).
    """
    p, df = share("p", p), number("df", df, 1)
    shift = number("shift", shift, -2000, high=2000)
    return _root(p, df, shift)


@lru_cache(maxsize=256)  # cases share their numbers of attempts
def _root(p: float, df: float, shift: float) -> float:
    return rising_root(lambda t: noncentral_t_cdf(t, df, shift) - p, shift + _NORMAL.inv_cdf(p), 1e9)
