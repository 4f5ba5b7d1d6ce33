"""How far a stop of training may run on in each profile, against sums by hand."""

from __future__ import annotations

import pytest
from gathered import of_each

from docgen.case.profile import Profile
from docgen.evidence.release import release_bound
from docgen.evidence.stop_limits import stop_limits_m
from docgen.evidence.stopping import stopping_distance
from docgen.evidence.stopping_rule import Release, Stopping


def rule_of(*distances_m: float | None) -> Stopping:
    """A rule with one profile a distance, p0, p1 and so on."""
    profiles = [Profile(id=f"p{at}", name=f"profile {at}") for at, _ in enumerate(distances_m)]
    release = Release(None, "slowest", release_bound([]))
    return Stopping(release, on_level=tuple(zip(profiles, distances_m, strict=True)))


def limits_of(rule: Stopping, trial_m: float | None) -> dict[str, float]:
    return {profile.id: limit_m for profile, limit_m in stop_limits_m(rule, trial_m)}


# v (release + 0.15) + v^2 / 1.6 by hand: 0.4375 + 0.0391, 0.5875 + 0.0391 and 0.5550 + 0.0563 m
@of_each("speed_m_s, release_s, limit_m", [(0.25, 1.6, 0.5), (0.25, 2.2, 0.65), (0.3, 1.7, 0.65)])
def test_a_slow_profile_is_held_to_what_its_slowest_release_needs(speed_m_s, release_s, limit_m):
    stop = stopping_distance(speed_m_s, release_s, 0.15, 0.8)
    assert stop is not None
    assert limits_of(rule_of(stop.total_m), 1.0) == {"p0": limit_m}
    # a release of 3.7 s at 0.25 m/s, which the limit of the trial lets through, is past each of them
    late = stopping_distance(speed_m_s, 3.7, 0.15, 0.8)
    assert late is not None and late.total_m > limit_m


def test_no_profile_is_held_to_less_than_the_trial():
    assert limits_of(rule_of(0.4, 0.96, 1.0, 2.1), 1.0) == {"p0": 0.4}


def test_without_a_distance_in_the_trial_each_profile_has_its_own():
    assert limits_of(rule_of(0.4, 2.11), None) == {"p0": 0.4, "p1": 2.15}


def test_a_profile_of_which_nothing_can_be_told_has_no_limit():
    assert limits_of(rule_of(None, 0.31), 1.0) == {"p1": 0.35}


@pytest.mark.parametrize("steps", range(1, 40))
def test_a_multiple_of_the_step_stays_as_it_is(steps):
    assert limits_of(rule_of(steps * 0.05), None) == {"p0": round(steps * 0.05, 2)}
