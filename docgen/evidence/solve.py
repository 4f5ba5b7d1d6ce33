"""Where a function of one number crosses zero."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable

_EPS = sys.float_info.epsilon


def root(f: Callable[[float], float], low: float, high: float) -> float:
    """The place between `low` and `high` where f crosses 0, to the last few bits.

    f  continuous, with different signs at the two ends

    Raises ValueError when the signs are the same.

    Source: Chandrupatla 1997, Adv Eng Softw 28:145-149 (from memory): bisection, or inverse quadratic
            interpolation where three points bend little enough for it to be safe.
    Check:  x^3 - 2x - 5 = 0 between 2 and 3 at 2.0945514815423265 (Wallis's example).
    """
    new, other, f_new, f_other = low, high, f(low), f(high)
    if f_new == 0 or f_other == 0:
        return low if f_new == 0 else high
    if (f_new > 0) == (f_other > 0):
        raise ValueError(f"f must change sign between {low!r} and {high!r}")
    step = 0.5
    while True:
        at = new + step * (other - new)
        f_at = f(at)
        if (f_at > 0) == (f_new > 0):
            old, f_old = new, f_new
        else:
            old, f_old, other, f_other = other, f_other, new, f_new
        new, f_new = at, f_at
        best, f_best = (new, f_new) if abs(f_new) < abs(f_other) else (other, f_other)
        least = _EPS * (2 * abs(best) + 0.1) / abs(other - new) if other != new else 1.0
        if f_best == 0 or least > 0.5:
            return best
        across = (new - other) / (old - other)
        rise = (f_new - f_other) / (f_old - f_other) if f_old != f_other else 1.0
        step = 0.5
        if rise * rise < across and (1 - rise) ** 2 < 1 - across:
            step = f_new / (f_other - f_new) * f_old / (f_other - f_old) + (old - new) / (other - new) * f_new / (
                f_old - f_new
            ) * f_other / (f_old - f_other)
        step = min(1 - least, max(least, step))


def rising_root(f: Callable[[float], float], start: float, limit: float) -> float:
    """The place where a rising f crosses 0, looked for in growing steps from `start`.

    f      continuous and rising
    start  any finite number
    limit  distance from 0 at which the search ends and returns that limit

    Source: root, once two steps lie on either side.
    Check:  x^3 - 8 from 0: 2 (by hand).
    """
    rising = f(start) < 0
    near, step = start, 0.5 if rising else -0.5
    while (f(near + step) < 0) == rising:
        near += step
        step *= 2
        if abs(near) > limit:
            return math.copysign(limit, near)
    return root(f, near, near + step)
