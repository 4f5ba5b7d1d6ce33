"""Ramps and other slopes of the record, each against what the chair takes, and how people go there."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TypedDict

from docgen.case.model import Case
from docgen.case.need import Space
from docgen.case.privacy import Privacy
from docgen.case.supervision import Supervision
from docgen.documents.made_from import made_from
from docgen.evidence.stopping_rule import Stopping, late_on_slope_m
from docgen.units import limit_mm

MADE_FROM = {
    "slopes": made_from(
        "spaces",
        most_percent="configuration.chair.most_slope_percent",
        beyond=("spaces", "configuration.chair.most_slope_percent", "configuration.chair.climbs_mm"),
        climbs_mm="configuration.chair.climbs_mm",
        profile="configuration.profiles",
        by="supervision",
        needs="supervision",
        driven="supervision",
        pushed="supervision",
        level_mm=("configuration.profiles", Privacy.TRIAL),
        late_mm=("configuration.profiles", Privacy.TRIAL),
        speed_m_s="configuration.profiles",
    ),
}


class SlopeRow(TypedDict):
    """One slope. Its slope and the chair's in percent, length and threshold in mm.

    beyond       it is steeper than the chair takes, or its threshold higher
    threshold_mm None where it was not measured; 0 where there is none
    by           who is near there, and `needs` how many of them it takes
    stop_mm, stop_on longest stop measured there, and when; ahead_mm the space it has
    speed_m_s        speed of the profile used there
    level_mm         what a stop needs on the level at that speed
    late_mm          that longest stop and, whatever release it had, the whole of the one that distances are worked out
                     with: it is never longer than this; both None where the stop or a figure was not measured
    driven, pushed   what was driven there so far; how the chair is pushed there
    """

    name: str
    percent: float | None
    most_percent: float | None
    beyond: bool
    length_mm: float | None
    rails: str | None
    threshold_mm: float | None
    climbs_mm: float | None
    profile: str
    by: str | None
    needs: int | None
    stop_mm: float | None
    stop_on: date | None
    ahead_mm: float | None
    speed_m_s: float | None
    level_mm: float | None
    late_mm: float | None
    driven: str | None
    pushed: str | None
    _labels: dict[str, str]


def slopes(case: Case, rule: Stopping) -> Iterator[SlopeRow]:
    """Each ramp, and each other place of the record that slopes, with the stopping rule of the case."""
    chair = case.configuration.chair
    for space in case.spaces:
        if not space.is_sloping:
            continue
        near = _near(case, space)
        profile = next((profile for profile in case.configuration.profiles if profile.id == space.profile), None)
        speed_m_s = profile.speed_m_s if profile else None
        yield {
            "name": space.name,
            "percent": space.slope_percent,
            "most_percent": chair.most_slope_percent,
            "beyond": _over(space.slope_percent, chair.most_slope_percent)
            or _over(space.threshold_mm, chair.climbs_mm),
            "length_mm": space.length_mm,
            "rails": space.rails,
            "threshold_mm": space.threshold_mm,
            "climbs_mm": chair.climbs_mm,
            "profile": profile.name if profile else "",
            "by": near.by if near else None,
            "needs": near.needs if near else None,
            "stop_mm": None if space.slope_stop_m is None else space.slope_stop_m * 1000,
            "stop_on": space.slope_stop_on,
            "ahead_mm": space.clear_ahead_mm,
            "speed_m_s": speed_m_s,
            "level_mm": _level_mm(space, rule, speed_m_s),
            "late_mm": _late_mm(space, rule, speed_m_s),
            "driven": near.driven if near else None,
            "pushed": near.pushed if near else None,
            "_labels": {
                "percent": f"slope of the {space.name}",
                "most_percent": "steepest slope that the chair takes",
                "length_mm": f"length of the {space.name}",
                "rails": f"rails of the {space.name}",
                "threshold_mm": f"threshold of the {space.name}",
                "climbs_mm": "highest threshold that the chair takes",
                "by": f"who is near at the {space.name}",
                "needs": f"how many people it takes at the {space.name}",
                "stop_mm": f"longest stop on the slope of the {space.name}",
                "stop_on": f"day of the stop on the slope of the {space.name}",
                "ahead_mm": f"clear space ahead at the {space.name}",
                "speed_m_s": f"speed on the {space.name}",
                "level_mm": "stop on the level",
                "late_mm": "stop with a late release",
                "driven": f"what was driven at the {space.name}",
                "pushed": f"how the chair is pushed at the {space.name}",
            },
        }


def _level_mm(space: Space, rule: Stopping, speed_m_s: float | None) -> float | None:
    """What a stop at that speed needs on the level, in mm; None where none was measured on the slope."""
    if space.slope_stop_m is None or speed_m_s is None or rule.braking is None:
        return None
    needs_m = rule.braking.distance_m(speed_m_s)
    return None if needs_m is None else limit_mm(needs_m)


def _late_mm(space: Space, rule: Stopping, speed_m_s: float | None) -> float | None:
    """The stop measured on the slope and the way of a whole release at that speed, in mm."""
    late_m = late_on_slope_m(space, speed_m_s, rule.release)
    return None if late_m is None else limit_mm(late_m)


def _over(measured: float | None, most: float | None) -> bool:
    return measured is not None and most is not None and measured > most


def _near(case: Case, space: Space) -> Supervision | None:
    """What holds there today of who is near."""
    return next((place for place in case.supervision if space.id in place.covers and not place.is_later), None)
