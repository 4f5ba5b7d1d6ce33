"""What the letter says of stopping: which of two release times the distances follow from, and what the chair must
take."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words, number
from docgen.documents.places import tightest
from docgen.evidence.fact import Evidence
from docgen.rendering.template import Number

MADE_FROM = {
    "stopping": made_from("trial.methods", "configuration.profiles", "configuration.chair", "spaces"),
    "slower": made_from("trial.methods", "configuration.profiles", "spaces"),
}


class StoppingTold(TypedDict):
    """How stopping is told.

    signal           what ends a drive: letting go of it, or with a latch a signal of its own
    bound            whether the bound of the release times prints as another number than the slowest seen
    follows_from     which of the two the distances follow from; the slowest where both print alike, "" where neither is
                     recorded
    over_thresholds  whether the chair takes a threshold, or has one to take
    """

    signal: Literal["release", "stop_signal"]
    bound: bool
    follows_from: Literal["bound", "slowest", ""]
    over_thresholds: bool


def stopping_told(case: Case, evidence: Evidence, words: Words) -> StoppingTold:
    """What the record of the requested control tells of stopping."""
    bound, slowest = (
        number(fact, words) if (fact := evidence.of(name, case.configuration.method or "")) else None
        for name in ("release", "release_slowest")
    )
    differs = isinstance(bound, Number) and (not isinstance(slowest, Number) or bound.short != slowest.short)
    no_release = not isinstance(bound, Number) and not isinstance(slowest, Number)
    by_bound = differs and evidence.stopping.release.why == "bound"
    places = [there.space for there in evidence.stopping.places]
    return {
        "signal": "stop_signal" if case.configuration.is_latched else "release",
        "bound": differs,
        "follows_from": "" if no_release else "bound" if by_bound else "slowest",
        "over_thresholds": bool(case.configuration.chair.climbs_mm) or any(place.threshold_mm for place in places),
    }


class SlowerRow(TypedDict):
    """A profile that holds the chair below the speed of the trial where it drives. Speeds in m/s.

    places     names of the places at home, and of the tightest, that are driven in it
    driven_m_s fastest speed of the trial with the requested control
    chosen_by  who changes the profile, as the case says; "" where it does not
    """

    name: str
    places: tuple[str, ...]
    speed_m_s: float
    driven_m_s: float
    chosen_by: str


def slower(case: Case, evidence: Evidence) -> Iterator[SlowerRow]:
    """Each profile in which a place is driven more slowly than the trial was, in the order of the case."""
    driven_m_s = fastest_driven_m_s(case)
    if driven_m_s is None:
        return
    for profile in case.configuration.profiles:
        there = [place for place in evidence.stopping.places if place.profile is profile and not place.space.is_sloping]
        names = [place.space.name for place in there if place.space.at_home or place in tightest(evidence)]
        if not names or profile.speed_m_s is None or profile.speed_m_s >= driven_m_s:
            continue
        yield {
            "name": profile.name,
            "places": tuple(names),
            "speed_m_s": profile.speed_m_s,
            "driven_m_s": driven_m_s,
            "chosen_by": case.configuration.choose_by or "",
        }


def fastest_driven_m_s(case: Case) -> float | None:
    """Fastest speed in m/s of the trial with the requested control; None where none is recorded."""
    asked = case.configuration.method
    speeds = [row.speed_m_s for row in case.tried if row.method == asked]
    speeds += [method.speed_m_s for method in case.trial.methods if method.id == asked]
    return max((speed for speed in speeds if speed is not None), default=None)
