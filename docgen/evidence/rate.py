"""Rates of events, such as collisions per 100 m or unintended activations a minute, with exact intervals.

Events are taken to come singly and at a steady rate. A rate says nothing about how much harm one event does.
"""

from __future__ import annotations

import math

from msgspec import Struct

from docgen.evidence.checked import count, number, share
from docgen.evidence.special import (
    beta_log_odds,
    binomial_cdf,
    incomplete_gamma_inverse,
    incomplete_gamma_upper_inverse,
)

GARWOOD = "Garwood 1936, Biometrika 28:437-442"  # of the interval of a rate


class Rate(Struct, frozen=True):
    """n_events in `exposure` units, as a rate per `per` of them: 0 <= low <= rate <= high."""

    n_events: int
    exposure: float
    per: float
    rate: float
    low: float
    high: float
    level: float


class RateRatio(Struct, frozen=True):
    """First rate over second rate. None for a ratio or an upper limit that the counts leave open.

    p_doubled  twice the smaller one-sided exact p, at most 1: the p value that belongs to this central
               interval
    """

    ratio: float | None
    low: float
    high: float | None
    p_doubled: float
    level: float


def garwood_interval(n_events: int, exposure: float, per: float = 1.0, level: float = 0.95) -> Rate:
    """Events per `per` units of exposure, with the exact Poisson interval.

    n_events  count >= 0: one method, all the rows whose exposure is known
    exposure  metres or minutes in those same rows, more than 0
    per       units that the rate is stated for: 100 for per 100 m, 1 for per minute; more than 0
    level     two-sided confidence, strictly between 0 and 1

    With no event low is exactly 0.0 and high stays positive: none seen is not none possible.
    Raises ValueError naming the argument and its value.

    Source: Garwood 1936, Biometrika 28:437-442.
    Check:  0 events: 0 to 3.689; 25 events: 16.18 to 36.90 (published); 3 in 240 m per 100 m: 1.25
            (0.257780 to 3.653030) (from the table of limits, by hand).
    """
    n_events, scale = count("n_events", n_events), _scale(exposure, per)
    tail = (1 - share("level", level)) / 2
    low = incomplete_gamma_inverse(n_events, tail) if n_events else 0.0
    high = incomplete_gamma_upper_inverse(n_events + 1, tail)
    return Rate(n_events, exposure, per, n_events * scale, low * scale, high * scale, level)


def rate_ratio(
    n_events_1: int, exposure_1: float, n_events_2: int, exposure_2: float, level: float = 0.95
) -> RateRatio:
    """First rate over second rate, with the exact interval given the total count.

    n_events_1, exposure_1  events and metres or minutes of the first method; exposure more than 0
    n_events_2, exposure_2  of the second, in the same unit
    level                   two-sided confidence, strictly between 0 and 1

    ratio is None when the second count is 0, and so is high; with no event at all low is 0.0 and p is 1.0.
    The other usual exact p, by least likelihood, can fall below 0.05 while this interval contains 1; it is
    not given here so that no text can pair the two.
    Raises ValueError naming the argument and its value.

    Source: Clopper-Pearson limits of the first share of the total; Fay 2010, R Journal 2(1):53-58.
    Check:  11 in 800 against 21 in 3011: 1.971488 (0.858426 to 4.277266) (classic breast cancer data);
            2 in 17877 against 9 in 16660: 0.207094 (0.021774 to 1.000549), p 0.050106 (Fay 2010).
    """
    first, second = count("n_events_1", n_events_1), count("n_events_2", n_events_2)
    exposure_1 = number("exposure_1", exposure_1, above=0)
    exposure_2 = number("exposure_2", exposure_2, above=0)
    tail = (1 - share("level", level)) / 2
    total, scale = first + second, exposure_2 / exposure_1
    low = _odds(first, second + 1, tail) * scale if first else 0.0
    high = _odds(first + 1, second, 1 - tail) * scale if second else None
    part = exposure_1 / (exposure_1 + exposure_2)
    fewer = binomial_cdf(first, total, part)
    more = binomial_cdf(second, total, exposure_2 / (exposure_1 + exposure_2))
    ratio = first / second * scale if second else None
    return RateRatio(ratio, low, high, min(1.0, 2 * min(fewer, more)), level)


def _scale(exposure: float, per: float) -> float:
    return number("per", per, above=0) / number("exposure", exposure, above=0)


def _odds(a: int, b: int, p: float) -> float:
    """x / (1 - x) of the x at which I_x(a, b) = p."""
    return math.exp(beta_log_odds(a, b, p))
