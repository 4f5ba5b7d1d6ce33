"""Tails of the incomplete beta function, inverses of beta and gamma, and the binomial distribution that rests on them.

Both tails are worked out, never one as 1 minus the other when that would lose digits, and the leading factor
is written so that it keeps its digits for counts of 100,000. Only `math` is used.

Formula numbers are those of the NIST Digital Library of Mathematical Functions (DLMF), from memory.
"""

from __future__ import annotations

import math
import sys
from functools import lru_cache

from docgen.evidence.checked import MOST_COUNT, count, number
from docgen.evidence.solve import rising_root

_EPS = sys.float_info.epsilon
_MOST_TERMS = 100_000


def incomplete_gamma_inverse(a: float, p: float) -> float:
    """The x at which P(a, x) = p.

    a  shape, from 0.001 to 20,000,000
    p  at least 0 and less than 1

    Raises ValueError naming the argument and its value.

    Source: root of DLMF 8.2.4 in log x.
    Check:  P(25, x) = 0.025 at x = 16.18, the lower 95 % limit for 25 events (published Garwood limits).
    """
    a, p = _shape("a", a), number("p", p, 0, high=1)
    if p == 1:
        raise ValueError(f"p must be less than 1, not {p!r}")
    return 0.0 if p == 0 else _gamma_root(a, p, 1 - p)


def incomplete_gamma_upper_inverse(a: float, q: float) -> float:
    """The x at which Q(a, x) = q.

    a  shape, from 0.001 to 20,000,000
    q  more than 0 and at most 1

    Raises ValueError naming the argument and its value.

    Source: root of DLMF 8.2.4 in log x.
    Check:  Q(1, x) = 0.025 at x = 3.689, the upper 95 % limit for no event (published Garwood limits).
    """
    a, q = _shape("a", a), number("q", q, 0, high=1)
    if q == 0:
        raise ValueError(f"q must be more than 0, not {q!r}")
    return 0.0 if q == 1 else _gamma_root(a, 1 - q, q)


def binomial_cdf(k: int, n: int, p: float) -> float:
    """P(X <= k) for X binomial with n trials of probability p.

    k  any whole number: below 0 gives 0.0, n or more gives 1.0
    n  at least 0
    p  from 0 to 1

    Raises ValueError naming the argument and its value.

    Source: DLMF 8.17.5.
    Check:  n 10, p 0.8: P(X >= 8) = 0.6778 (by hand from the definition).
    """
    k, n, p = count("k", k, low=-MOST_COUNT), count("n", n), number("p", p, 0, high=1)
    if k < 0 or k >= n:
        return 0.0 if k < 0 else 1.0
    return beta_tails(n - k, k + 1, 1 - p, p)[0]


def beta_tails(a: float, b: float, x: float, y: float) -> tuple[float, float]:
    """I_x(a, b) and its complement I_y(b, a); `y` is 1 - x, given apart so that neither loses digits.

    a, b  shapes, more than 0, not checked here
    x, y  from 0 to 1, together 1

    Source: DLMF 8.17.22 and 8.17.4.
    Check:  I_0.5(2, 3) = 11/16; I_x(1, b) = 1 - (1 - x)^b (by hand from the definition).
    """
    front = _beta_front(a, b, x, y)
    if x < (a + 1) / (a + b + 2):
        lower = min(1.0, front / (a * _beta_fraction(a, b, x)))
        return lower, 1 - lower
    upper = min(1.0, front / (b * _beta_fraction(b, a, y)))
    return 1 - upper, upper


@lru_cache(maxsize=1024)  # as the roots of gamma
def beta_log_odds(a: float, b: float, p: float) -> float:
    """log(x / (1 - x)) of the x at which I_x(a, b) = p, for p strictly between 0 and 1.

    a, b  shapes, more than 0, not checked here

    Source: root of DLMF 8.17.2 in the log odds of x, which keep the digits of both x and 1 - x.
    Check:  a = b = 1, p = 0.25: log(1/3) = -1.098612 (by hand).
    """
    tail, target = (0, p) if p < 0.5 else (1, 1 - p)
    sign = 1 if tail == 0 else -1

    def beyond(log_odds: float) -> float:
        tail_value = beta_tails(a, b, _expit(log_odds), _expit(-log_odds))[tail]
        return sign * (math.log(tail_value / target) if tail_value > 0 else -1e6)

    return rising_root(beyond, math.log(a / b), 740.0)


def _shape(name: str, value: float) -> float:
    return number(name, value, 1e-3, high=2e7)


def _beta_front(a: float, b: float, x: float, y: float) -> float:
    """x^a y^b / B(a, b), by Stirling's form so that large shapes do not cancel."""
    lean = b * x - a * y
    power = a * _log_ratio(lean / a, x * (a + b) / a) + b * _log_ratio(-lean / b, y * (a + b) / b)
    rest = _stirling_rest(a + b) - _stirling_rest(a) - _stirling_rest(b)
    return math.sqrt(a / (2 * math.pi) * (b / (a + b))) * math.exp(power + rest)


def _beta_fraction(a: float, b: float, x: float) -> float:
    """The continued fraction of DLMF 8.17.22, by Lentz's method."""
    c = fraction = 1.0
    d = 0.0
    for m in range(_MOST_TERMS):
        if m:
            term = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
            c, d, fraction = _lentz(term, 1.0, c, d, fraction)
        term = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        before = fraction
        c, d, fraction = _lentz(term, 1.0, c, d, fraction)
        if m and abs(fraction - before) <= _EPS * abs(fraction):
            return fraction
    raise ArithmeticError(f"no convergence for a={a}, b={b}, x={x}")


def _lentz(top: float, under: float, c: float, d: float, fraction: float) -> tuple[float, float, float]:
    """One more level of a continued fraction: the two running ratios and the value so far."""
    d = 1 / ((under + top * d) or 1e-300)
    c = (under + top / c) or 1e-300
    return c, d, fraction * c * d


def _gamma_tails(a: float, x: float) -> tuple[float, float]:
    """P(a, x) and Q(a, x)."""
    lean = (x - a) / a
    front = math.exp(a * (_log_ratio(lean, x / a) - lean) - _stirling_rest(a)) / math.sqrt(2 * math.pi * a)
    if x < a + 1:
        term = total = 1.0
        shape = a
        while term > _EPS * total:
            shape += 1
            term *= x / shape
            total += term
        lower = min(1.0, front * total)
        return lower, 1 - lower
    under = x + 1 - a
    c, d, fraction = under, 0.0, under
    for m in range(1, _MOST_TERMS):
        before = fraction
        c, d, fraction = _lentz(m * (a - m), under + 2 * m, c, d, fraction)
        if abs(fraction - before) <= _EPS * abs(fraction):
            upper = min(1.0, front * a / fraction)
            return 1 - upper, upper
    raise ArithmeticError(f"no convergence for a={a}, x={x}")


@lru_cache(maxsize=1024)  # cases share their small counts
def _gamma_root(a: float, p: float, q: float) -> float:
    tail, target = (0, p) if p < q else (1, q)
    sign = 1 if tail == 0 else -1

    def beyond(log_x: float) -> float:
        tail_value = _gamma_tails(a, math.exp(log_x))[tail]
        return sign * (math.log(tail_value / target) if tail_value > 0 else -1e6)

    return math.exp(rising_root(beyond, math.log(a), 700.0))


def _stirling_rest(a: float) -> float:
    """log Gamma(a) less Stirling's leading terms (DLMF 5.11.1)."""
    if a < 10:
        return math.lgamma(a) - (a - 0.5) * math.log(a) + a - 0.5 * math.log(2 * math.pi)
    r = 1 / (a * a)
    return (1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r / 1188)))) / a


def _log_ratio(less_one: float, ratio: float) -> float:
    """log of a ratio known both as itself and as itself less 1; minus infinity at 0, where a tail begins."""
    return math.log1p(less_one) if abs(less_one) < 0.5 else math.log(ratio) if ratio > 0 else -math.inf


def _expit(log_odds: float) -> float:
    return 1 / (1 + math.exp(-log_odds)) if log_odds > -700 else math.exp(log_odds)
