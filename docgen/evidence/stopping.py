"""Stopping: how far the chair runs on, and the fastest speed that still stops inside a space.

The chair holds its speed while the driver lets go and the electronics answer, then slows evenly. The release
time is the upper limit of the driver's own (an upper bound, see release.py); delay and deceleration are measured
on the chair. Nothing here is a setting: a qualified person verifies the speed on the real chair.
"""

from __future__ import annotations

import math

from msgspec import Struct

from docgen.evidence.checked import SMALLEST, number

GRAVITY_M_S2 = 9.80665  # standard gravity


class Stop(Struct, frozen=True):
    """Metres run on before standing still: while letting go, while slowing, and together."""

    lag_m: float
    braking_m: float
    total_m: float


def deceleration_on_slope_m_s2(deceleration_m_s2: float, down_percent: float) -> float:
    """Deceleration left on a slope, in m/s2; 0 or less when the chair does not stop.

    deceleration_m_s2  measured on the level, more than 0
    down_percent       fall per length in percent, 8.33 for 1:12; less than 0 going up

    Assumes that the brakes give the same force as on the level. Wet or loose ground gives less.
    Raises ValueError naming the argument and its value.

    Source: the part of gravity along the slope, g sin(theta).
    Check:  1:12 down: g sin(theta) = 0.814398, so 1.5 leaves 0.685602 and 1 m/s brakes in 0.7293 m, against
            0.3333 m on the level (by hand).
    """
    level = number("deceleration_m_s2", deceleration_m_s2, above=0)
    tangent = number("down_percent", down_percent, -100, high=100) / 100
    return level - GRAVITY_M_S2 * tangent / math.hypot(1, tangent)


def stopping_distance(
    speed_m_s: float, release_s: float, delay_s: float, deceleration_m_s2: float, down_percent: float = 0.0
) -> Stop | None:
    """Distance from the wish to stop to standing still, in metres.

    speed_m_s          at least 0
    release_s          driver's release time, at least 0
    delay_s            from input off to braking, at least 0
    deceleration_m_s2  measured on the level, more than 0
    down_percent       fall of the ground in percent, less than 0 going up

    Returns None when the slope leaves no deceleration: the chair does not stop.
    Raises ValueError naming the argument and its value.

    Source: d = v (t_release + t_delay) + v^2 / (2 a).
    Check:  0.5 m/s, 0.5 s, 1.0 m/s2: 0.375 m; 60 mph, 2.5 s, 11.2 ft/s2: 566 ft (AASHTO stopping sight
            distance, as printed in a state design manual).
    """
    speed = number("speed_m_s", speed_m_s, 0)
    lag_s = number("release_s", release_s, 0) + number("delay_s", delay_s, 0)
    left = deceleration_on_slope_m_s2(deceleration_m_s2, down_percent)
    if left <= 0:
        return None
    lag_m, braking_m = speed * lag_s, speed * speed / (2 * left)
    return Stop(lag_m, braking_m, lag_m + braking_m)


def fastest_speed_m_s(
    space_m: float,
    release_s: float,
    delay_s: float,
    deceleration_m_s2: float,
    down_percent: float = 0.0,
    margin_m: float = 0.0,
    step_m_s: float | None = None,
) -> float:
    """Fastest speed that stops inside the space, in m/s.

    space_m            free length ahead, at least 0
    release_s          driver's release time, at least 0
    delay_s            from input off to braking, at least 0
    deceleration_m_s2  measured on the level, more than 0
    down_percent       fall of the ground in percent, less than 0 going up
    margin_m           length to keep free, at least 0
    step_m_s           round down to a multiple of this, at least 0.000001; None to leave it unrounded

    0.0 when the margin takes all the space, when the slope leaves no deceleration, or below the first step.
    Raises ValueError naming the argument and its value.

    Source: d = v t + v^2 / (2 a) solved for v, in the form 2 d / (t + sqrt(t^2 + 2 d / a)).
    Check:  1 m, 0.5 s, 1 m/s2: 1.0000; 1.5, 0.5, 2: 1.6458; 2, 1, 1.5: 1.3723; 0.75, 0.75, 1: 0.6861 (by
            hand).
    """
    space = number("space_m", space_m, 0) - number("margin_m", margin_m, 0)
    lag_s = number("release_s", release_s, 0) + number("delay_s", delay_s, 0)
    left = deceleration_on_slope_m_s2(deceleration_m_s2, down_percent)
    step = None if step_m_s is None else number("step_m_s", step_m_s, 1e-6)
    if space < SMALLEST or left <= 0:
        return 0.0
    speed = 2 * space / (lag_s + math.sqrt(lag_s * lag_s + 2 * space / left))
    return speed if step is None else _down_to(speed, step)


def _down_to(value: float, step: float) -> float:
    """`value` rounded down to a multiple of `step`; a multiple missed only by rounding error is kept."""
    return round(math.floor(value / step * (1 + 1e-12)) * step, 12)
