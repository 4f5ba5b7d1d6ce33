"""What a technician holds a stop against: of each profile how soon the chair brakes, in what distance and time it
stands.

A limit is rounded up, so that a chair that is exactly as it was set passes, in mm, in inches and in seconds.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.case.need import Space
from docgen.criteria.helper_room import WALKER_MM
from docgen.documents.made_from import made_from
from docgen.documents.phrase import InWords
from docgen.evidence.fact import Evidence
from docgen.rendering.template import Gap, Number

MADE_FROM = {
    "stop_tests": made_from(
        "configuration.profiles",
        "configuration.chair.electronics_delay_s",
        "configuration.chair.deceleration_m_s2",
        turn_s="configuration.settings",
    ),
    "slope_stops": made_from("spaces", "configuration.profiles", "configuration.chair.width_mm", "configuration.stop"),
}


_OPPOSITE = {"left": "right", "right": "left"}


class StopTestRow(TypedDict):
    """The stop of one profile at its speed, on the level, from the end of the input; forward, and in reverse.

    speed_m_s, back_m_s      None where it is not recorded
    within_mm, back_mm       limit of the distance to standing still; None where a measure for it is lacking
    within_s, back_s         limit of the time until then
    turn_s                   limit of the time to the end of a turn in place; None where no setting tells its seconds
    """

    profile: str
    speed_m_s: float | None
    within_mm: Number | None
    within_s: Number | None
    back_m_s: float | None
    back_mm: Number | None
    back_s: Number | None
    turn_s: Number | None
    _labels: dict[str, str]


class SlopeStopRow(TypedDict):
    """The stop on one slope in the profile that is used there.

    within_mm    limit of the distance, going down: the longest stop measured there, else worked out; None where the
                 deceleration on the level does not hold the chair
    ahead_mm     free length ahead at that place; None where it is not recorded
    room         for a person beside the chair: none, on one side alone, or empty where there is enough or nobody knows
    is_behind    whether the switch of a helper is behind the chair, which is below it on the way up
    keeps        side whose edge the chair keeps to, so that whoever is at the power switch walks on the other, `walks`;
                 both empty where that switch is at no side
    """

    place: str
    profile: str
    speed_m_s: float | None
    within_mm: Number | None
    ahead_mm: float | None
    room: Literal["none", "one_side", ""]
    is_behind: bool
    keeps: str
    walks: str
    _labels: dict[str, str]


def stop_tests(case: Case, evidence: Evidence, shown: InWords) -> Iterator[StopTestRow]:
    """Each profile, in the order of the case."""
    lacking = "delay, deceleration and speed that give it"
    for profile in case.configuration.profiles:
        yield {
            "profile": profile.name,
            "speed_m_s": profile.speed_m_s,
            "within_mm": _valued(shown(evidence.of("braking", profile.id))),
            "within_s": _valued(shown(evidence.of("braking_s", profile.id))),
            "back_m_s": profile.reverse_m_s,
            "back_mm": _valued(shown(evidence.of("braking_back", profile.id))),
            "back_s": _valued(shown(evidence.of("braking_back_s", profile.id))),
            "turn_s": _valued(shown(evidence.of("braking_turn_s", profile.id))),
            "_labels": {
                "speed_m_s": f"speed of the {profile.name} profile",
                "back_m_s": f"reverse speed of the {profile.name} profile",
                "within_mm": lacking,
                "within_s": lacking,
                "back_mm": lacking,
                "back_s": lacking,
                "turn_s": "delay, and seconds of the turning deceleration",
            },
        }


def slope_stops(case: Case, evidence: Evidence, shown: InWords) -> Iterator[SlopeStopRow]:
    """Each place with a slope and a profile of its own."""
    names = {profile.id: profile for profile in case.configuration.profiles}
    side = case.configuration.stop.power_side
    for space in case.spaces:
        profile = names.get(space.profile or "")
        if not space.is_sloping or profile is None:
            continue
        yield {
            "place": space.name,
            "profile": profile.name,
            "speed_m_s": profile.speed_m_s,
            "within_mm": _valued(shown(evidence.of("stopping_on" if space.slope_stop_m else "braking_on", space.id))),
            "ahead_mm": space.clear_ahead_mm,
            "room": _room(space, case.configuration.chair.width_mm, side),
            "is_behind": case.configuration.stop.is_behind,
            "keeps": _OPPOSITE.get(side, ""),
            "walks": side,
            "_labels": {
                "speed_m_s": f"speed of the {profile.name} profile",
                "ahead_mm": f"clear space ahead at the {space.name}",
                "within_mm": "longest stop on it",
            },
        }


def _room(space: Space, width_mm: float | None, side: str) -> Literal["none", "one_side", ""]:
    """What a place leaves beside the chair for whoever is at its power switch."""
    if space.clear_width_mm is None or width_mm is None or not side:
        return ""
    left_mm = space.clear_width_mm - width_mm
    if left_mm < WALKER_MM:
        return "none"
    return "one_side" if left_mm / 2 < WALKER_MM else ""


def _valued(number: Number | Gap | None) -> Number | None:
    """The number; None for a fact without a value."""
    return number if isinstance(number, Number) else None
