"""Steering by switch: the smallest turn a driver can make, and the largest error a doorway forgives.

A switch has no half way, so the driver's finest correction is one shortest activation long. Where that turns
the chair further than a doorway forgives, no skill gets it through cleanly; the turn rate has to come down.
Nothing here is a setting: a qualified person verifies the turn rate on the real chair.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from msgspec import Struct

from docgen.evidence.checked import number


class DoorwayTurn(Struct, frozen=True):
    """Turn rate that suits every doorway: the one that forgives least decides."""

    tightest: str
    allowed_deg: float
    turn_rate_deg_s: float


def smallest_heading_change_deg(
    turn_rate_deg_s: float, activation_s: float, lag_s: float = 0.0, turn_deceleration_deg_s2: float | None = None
) -> float:
    """Degrees the chair turns on the driver's shortest activation, with what it turns on afterwards.

    turn_rate_deg_s           at least 0
    activation_s              shortest activation the driver makes on purpose, more than 0
    lag_s                     from input off to slowing, at least 0
    turn_deceleration_deg_s2  how fast the turn slows, more than 0; None when the turn stops at once

    Takes the turn to start at full rate; a chair that gathers its turn slowly turns less.
    Raises ValueError naming the argument and its value.

    Source: omega (t + lag) + omega^2 / (2 alpha).
    Check:  30 deg/s for 0.25 s: 7.5; 60 deg/s for 0.15 s, lag 0.20 s, 240 deg/s2: 21.0 + 7.5 = 28.5 (by
            hand).
    """
    rate = number("turn_rate_deg_s", turn_rate_deg_s, 0)
    turning_s, alpha = _turning(activation_s, lag_s, turn_deceleration_deg_s2)
    return rate * turning_s + (rate * rate / (2 * alpha) if alpha else 0.0)


def turn_rate_for_heading_deg_s(
    heading_deg: float, activation_s: float, lag_s: float = 0.0, turn_deceleration_deg_s2: float | None = None
) -> float:
    """Turn rate, in degrees per second, at which the smallest heading change is `heading_deg`.

    heading_deg               at least 0
    activation_s              shortest activation the driver makes on purpose, more than 0
    lag_s                     from input off to slowing, at least 0
    turn_deceleration_deg_s2  how fast the turn slows, more than 0; None when the turn stops at once

    Raises ValueError naming the argument and its value.

    Source: smallest_heading_change_deg solved for omega, in the form 2 d / (t + sqrt(t^2 + 2 d / alpha)).
    Check:  28.5 degrees, 0.15 s, lag 0.20 s, 240 deg/s2: 60 deg/s; 7.5 degrees in 0.25 s: 30 deg/s (by hand).
    """
    heading = number("heading_deg", heading_deg, 0)
    turning_s, alpha = _turning(activation_s, lag_s, turn_deceleration_deg_s2)
    coast = 2 * heading / alpha if alpha else 0.0
    return 2 * heading / (turning_s + math.sqrt(turning_s * turning_s + coast))


def doorway_heading_error_deg(
    clear_width_mm: float,
    wall_mm: float,
    chair_width_mm: float,
    chair_length_mm: float,
    approach_mm: float,
    pivot_to_front_mm: float | None = None,
    offset_mm: float = 0.0,
) -> float | None:
    """Largest heading error, in degrees either way, with which the chair still passes a doorway untouched.

    clear_width_mm     clear width between the jambs, more than 0
    wall_mm            thickness of the wall, the length of the opening, at least 0
    chair_width_mm     overall width, more than 0
    chair_length_mm    overall length, more than 0
    approach_mm        from the front of the chair to the wall when the heading was last corrected, at least 0
    pivot_to_front_mm  from the axle the chair turns about to its front, at most its length; half of it when
                       None
    offset_mm          how far the pivot then stood beside the middle line of the doorway, at least 0

    Returns None when the chair does not fit even when it is driven straight.
    Raises ValueError naming the argument and its value.

    From its last correction the chair drives straight, at an angle e to the doorway's middle line, so it
    sweeps a strip as wide as itself about the line its pivot follows. The near jamb on one side and the far
    jamb on the other bound that strip; the far one, reached last, always binds first. With X = approach +
    pivot to front + wall the pivot's line stands X tan e beside its start when it reaches the far face, and
    the strip's edge (width / 2) / cos e further out, hence

        X sin e + width / 2 <= (clear / 2 - offset) cos e.

    With R^2 = X^2 + (clear / 2 - offset)^2 and f = atan(X / (clear / 2 - offset)) that is R cos(e + f) >=
    width / 2, so e = acos(width / (2 R)) - f. The length enters through the pivot alone: the rear follows the
    same strip.

    Source: derived above.
    Check:  clear 800, wall 0, width 600, X = 1000: 5.63 degrees, where 1000 sin e + 300 = 400 cos e (by
            hand); polygons swept step by step in the tests.
    """
    clear = number("clear_width_mm", clear_width_mm, above=0)
    width = number("chair_width_mm", chair_width_mm, above=0)
    length = number("chair_length_mm", chair_length_mm, above=0)
    front = length / 2
    if pivot_to_front_mm is not None:
        front = number("pivot_to_front_mm", pivot_to_front_mm, 0, high=length)
    reach = number("approach_mm", approach_mm, 0) + front + number("wall_mm", wall_mm, 0)
    half = clear / 2 - number("offset_mm", offset_mm, 0)
    if half < width / 2:
        return None
    return max(0.0, math.degrees(math.acos(width / 2 / math.hypot(reach, half)) - math.atan2(reach, half)))


def turn_rate_for_doorways(
    allowed_deg: Mapping[str, float],
    activation_s: float,
    lag_s: float = 0.0,
    turn_deceleration_deg_s2: float | None = None,
) -> DoorwayTurn:
    """Turn rate at which one smallest heading change is no more than any doorway forgives.

    allowed_deg               doorway -> largest heading error in degrees, at least 0; at least one doorway
    activation_s              shortest activation the driver makes on purpose, more than 0
    lag_s                     from input off to slowing, at least 0
    turn_deceleration_deg_s2  how fast the turn slows, more than 0; None when the turn stops at once

    A driver who judged perfectly would be left with half a step of error at most; a whole step is asked for
    here, because the last correction is judged by a person and not by an instrument (common practice, no
    source).
    Raises ValueError naming the argument and its value.

    Source: turn_rate_for_heading_deg_s at the smallest allowed error.
    Check:  doorways forgiving 7.5 and 9 degrees, 0.25 s: 30 deg/s, decided by the first (by hand).
    """
    allowed = {name: number(f"allowed_deg[{name}]", error, 0) for name, error in allowed_deg.items()}
    if not allowed:
        raise ValueError(f"allowed_deg must hold at least one doorway, not {allowed_deg!r}")
    tightest = min(allowed, key=allowed.__getitem__)
    rate = turn_rate_for_heading_deg_s(allowed[tightest], activation_s, lag_s, turn_deceleration_deg_s2)
    return DoorwayTurn(tightest, allowed[tightest], rate)


def veer_radius_m(speed_m_s: float, turn_rate_deg_s: float) -> float:
    """Radius of the arc, in metres, that the pivot follows while rear and side pads act together.

    speed_m_s        forward speed kept during the turn, at least 0
    turn_rate_deg_s  more than 0

    0.0 at no forward speed: when the head leaves the rear pad the arc shrinks to a pivot on the spot.
    Raises ValueError naming the argument and its value.

    Source: R = v / omega.
    Check:  wheels 0.56 m apart at 0.6 and 0.3 m/s, so 0.45 m/s and 30.694 deg/s: 0.8400 m (by hand).
    """
    rate = number("turn_rate_deg_s", turn_rate_deg_s, above=0)
    return number("speed_m_s", speed_m_s, 0) / math.radians(rate)


def _turning(activation_s: float, lag_s: float, turn_deceleration_deg_s2: float | None) -> tuple[float, float | None]:
    """Seconds turned at full rate, and the checked deceleration."""
    turning_s = number("activation_s", activation_s, above=0) + number("lag_s", lag_s, 0)
    if turn_deceleration_deg_s2 is None:
        return turning_s, None
    return turning_s, number("turn_deceleration_deg_s2", turn_deceleration_deg_s2, above=0)
