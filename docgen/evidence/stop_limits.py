"""How far a stop of training may run on in each profile.

The limit of the trial belongs to the speed of the trial. At a slower profile it lets a release through that is far
later than any seen, and that runs out of room at the next profile.
"""

from __future__ import annotations

import math

from docgen.case.profile import Profile
from docgen.evidence.stopping_rule import Stopping

_STEP_M = 0.05  # what can be told from a line on the floor: common practice, no source


def stop_limits_m(rule: Stopping, trial_m: float | None) -> tuple[tuple[Profile, float], ...]:
    """Each profile with its limit in metres, in the order of the case; only those that are stricter than the trial.

    trial_m  within which a stop counted in the trial; None where no distance was asked for

    The limit is the stopping distance on the level at the speed of the profile, with the release, delay and
    deceleration on record, rounded up to 0.05 m. A profile of which that cannot be told has none.

    Source: as stopping_distance. A therapist confirms it on the chair: common practice, no source.
    """
    reckoned = ((profile, _up(distance_m)) for profile, distance_m in rule.on_level if distance_m is not None)
    return tuple((profile, limit_m) for profile, limit_m in reckoned if trial_m is None or limit_m < trial_m)


def _up(distance_m: float) -> float:
    """Rounded up to the step; a multiple passed only by rounding error is kept."""
    return round(math.ceil(distance_m / _STEP_M * (1 - 1e-12)) * _STEP_M, 2)
