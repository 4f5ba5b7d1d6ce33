"""The places a chair drives in, as the letter tells them: what was measured, what must be told of a place of its kind,
where it stops."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from docgen.case.model import Case
from docgen.documents.made_from import made_from
from docgen.documents.measures import Words, mm
from docgen.documents.phrase import InWords
from docgen.evidence.fact import Evidence
from docgen.rendering.template import Gap, Number

MADE_FROM = {
    "places": made_from("spaces", "configuration.profiles"),
    "rooms": made_from("spaces"),
}

_NARROW = frozenset(
    {"doorway", "corridor", "elevator"}
)  # kinds of places whose width decides whether the chair gets through


class PlaceRow(TypedDict):
    """One place. Lengths in mm, the slope in percent, the speed in m/s.

    tells_width, tells_threshold, tells_turning   it was measured, or a place of this kind is nothing without it
    placed      whether it is in the home is recorded
    enters      its free length is measured from the way in; left is what the chair's length leaves of it
    flat        its threshold was measured, and there is none
    slopes      it has a slope, measured or not
    stops       a distance to stop in belongs to it: its profile and the free length ahead are known
    worked_out  that distance follows from the record
    """

    name: str
    kind: str
    at_home: bool | None
    placed: bool
    clear_width_mm: float | None
    tells_width: bool
    turning_mm: float | None
    tells_turning: bool
    threshold_mm: float | None
    tells_threshold: bool
    flat: bool
    floor: str | None
    slope_percent: float | None
    slopes: bool
    ahead_mm: float | None
    enters: bool
    left: Number | Gap | None
    says: str
    stops: bool
    profile: str
    speed_m_s: float | None
    worked_out: bool
    distance: Number | Gap | None
    _labels: dict[str, str]


def places(evidence: Evidence, shown: InWords) -> Iterator[PlaceRow]:
    """Each place measured: what it leaves free, the speed there, and the distance the chair needs to stop."""
    for there in evidence.stopping.places:
        space, profile = there.space, there.profile
        stops = profile is not None and there.room_m is not None
        distance = evidence.of(*there.fact) if stops else None
        yield {
            "name": space.name,
            "kind": space.kind,
            "at_home": space.at_home,
            "placed": space.at_home is not None,
            "clear_width_mm": space.clear_width_mm,
            "tells_width": bool(space.clear_width_mm) or space.kind in _NARROW,
            "turning_mm": space.turning_mm,
            "tells_turning": bool(space.turning_mm) or space.kind == "turning",
            "threshold_mm": space.threshold_mm,
            "tells_threshold": bool(space.threshold_mm) or space.kind == "doorway",
            "flat": space.threshold_mm == 0,
            "floor": space.floor,
            "slope_percent": space.slope_percent,
            "slopes": space.kind == "ramp" or bool(space.slope_percent),
            "ahead_mm": space.clear_ahead_mm,
            "enters": space.ahead_from == "way_in",
            "left": shown(evidence.of("room_left", space.id)),
            "says": space.says or "",
            "stops": stops,
            "profile": profile.name if profile else "",
            "speed_m_s": profile.speed_m_s if profile else None,
            "worked_out": distance is not None and distance.value is not None,
            "distance": shown(distance),
            "_labels": {
                "at_home": f"whether the {space.name} is in the home",
                "speed_m_s": f"speed at the {space.name}",
                "distance": f"stopping distance at the {space.name}",
                "clear_width_mm": f"clear width of the {space.name}",
                "left": "overall length of the chair",
                "ahead_mm": f"clear space ahead at the {space.name}",
                "turning_mm": f"free floor to turn on at the {space.name}",
                "threshold_mm": f"threshold of the {space.name}",
                "floor": f"floor of the {space.name}",
            },
        }


class RoomRow(TypedDict):
    """What a place in the home leaves free, each measure in words."""

    name: str
    measures: tuple[str, ...]


def rooms(case: Case, words: Words) -> Iterator[RoomRow]:
    """Each place whose width or turning space was measured, as an order tells it."""
    for space in case.spaces:
        if not space.clear_width_mm and not space.turning_mm:
            continue
        measures = {
            "clear": space.clear_width_mm,
            "turning": space.turning_mm,
            "ahead": space.clear_ahead_mm,
            "threshold": space.threshold_mm,
        }
        phrases = (
            words["room"][name].format(mm=mm(size, "up" if name == "threshold" else "down", words=words))
            for name, size in measures.items()
            if size
        )
        yield {"name": space.name, "measures": tuple(phrases)}
