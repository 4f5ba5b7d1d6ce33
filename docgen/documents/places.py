"""The places a chair drives in, as the letter tells them: what was measured, what must be told of a place of its kind,
where it stops."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.case.need import Space
from docgen.criteria.helper_room import is_shared_room, stands_clear
from docgen.criteria.sentences import capital
from docgen.criteria.ways_out import BACKING, cannot_turn
from docgen.criteria.where_now import waits_in
from docgen.documents.made_from import made_from
from docgen.documents.measures import Words, decimal, mm
from docgen.documents.phrase import InWords, inside
from docgen.evidence.fact import Evidence
from docgen.evidence.stopping_rule import StopThere
from docgen.rendering.template import Gap, Number
from docgen.units import rounded

MADE_FROM = {
    "places": made_from("spaces", "configuration.profiles"),
    "rooms": made_from("spaces"),
}

_NARROW = frozenset(
    {"doorway", "corridor", "elevator"}
)  # kinds of places whose width decides whether the chair gets through

_NEEDED_UP = ("threshold", "length")  # the longer it is, the more the chair has to do


class PlaceRow(TypedDict):
    """One place. Lengths in mm, the slope in percent, the speed in m/s.

    tells_width, tells_threshold, tells_turning   it was measured, or a place of this kind is nothing without it
    tightest    no level place leaves less room to stop in
    placed      whether it is in the home is recorded
    enters      its free length is measured from the way in; left is what the chair's length leaves of it
    flat        its threshold was measured, and there is none
    slopes      it has a slope, measured or not
    rails, doors  on which sides a ramp has a handrail, how doors of an elevator open; empty where it is not recorded
    stops       a distance to stop in belongs to it: its profile and the free length ahead are known
    worked_out  that distance follows from the record
    stop_mm     it in mm, up to the next cm, as the cover tells it; None where it is not worked out
    backs_out   no floor to turn on is recorded there that holds the chair, its control has reverse, and `says` does not
                tell it
    hall_mm, across, across_tried  the hall in front of a door, what is straight across it (door, wall or empty) and how
                that way was tried
    turns_in_hall  the chair turns in that hall; None where either is not measured
    pushed_out  the chair is pushed out of the room there until the client comes out of it reliably
    first       what must be measured, tried or timed before the client drives there, each in words
    stand       of a room with no floor for whoever is near beside the circle that the chair turns in: told where
                the record says where they stand, else open; empty of any other place
    """

    name: str
    kind: str
    at_home: bool | None
    placed: bool
    tightest: bool
    clear_width_mm: float | None
    widest_mm: float | None
    tells_width: bool
    turning_mm: float | None
    tells_turning: bool
    threshold_mm: float | None
    tells_threshold: bool
    flat: bool
    floor: str | None
    slope_percent: float | None
    slopes: bool
    length_mm: float | None
    rails: str
    inside_width_mm: float | None
    inside_depth_mm: float | None
    doors: str
    ahead_mm: float | None
    enters: bool
    left: Number | Gap | None
    says: str
    stops: bool
    profile: str
    speed_m_s: float | None
    worked_out: bool
    distance: Number | Gap | None
    stop_mm: int | None
    backs_out: bool
    pushed_out: bool
    hall_mm: float | None
    across: str
    across_tried: str
    turns_in_hall: bool | None
    first: tuple[str, ...]
    stand: Literal["told", "open", ""]
    _labels: dict[str, str]


def places(case: Case, evidence: Evidence, words: Words, shown: InWords) -> Iterator[PlaceRow]:
    """Each place measured: what it leaves free, the speed there, and the distance the chair needs to stop."""
    least, first = tightest(evidence), _done_first(case, words)
    for there in evidence.stopping.places:
        space, profile = there.space, there.profile
        stops = profile is not None and there.room_m is not None
        distance = evidence.of(*there.fact) if stops else None
        yield {
            "name": space.name,
            "kind": space.kind,
            "at_home": space.at_home,
            "placed": space.at_home is not None,
            "tightest": there in least,
            "clear_width_mm": space.clear_width_mm,
            "widest_mm": space.widest_mm,
            "tells_width": bool(space.clear_width_mm) or space.kind in _NARROW,
            "turning_mm": space.turning_mm,
            "tells_turning": bool(space.turning_mm) or space.kind == "turning",
            "threshold_mm": space.threshold_mm,
            "tells_threshold": bool(space.threshold_mm) or space.kind == "doorway",
            "flat": space.threshold_mm == 0,
            "floor": space.floor,
            "slope_percent": space.slope_percent,
            "slopes": space.kind == "ramp" or bool(space.slope_percent),
            "length_mm": space.length_mm,
            "rails": space.rails or "",
            "inside_width_mm": space.inside_width_mm,
            "inside_depth_mm": space.inside_depth_mm,
            "doors": space.doors or "",
            "ahead_mm": space.clear_ahead_mm,
            "enters": space.ahead_from == "way_in",
            "left": shown(evidence.of("room_left", space.id)),
            "says": _whole(space),
            "stops": stops,
            "profile": profile.name if profile else "",
            "speed_m_s": profile.speed_m_s if profile else None,
            "worked_out": distance is not None and distance.value is not None,
            "distance": shown(distance),
            "stop_mm": None if there.distance_m is None else 10 * rounded(there.distance_m * 100, "up"),
            "backs_out": case.configuration.backs is True
            and cannot_turn(case, space)
            and not (space.at_home and BACKING.search(space.says or "")),
            "pushed_out": bool(space.pushed_out),
            "hall_mm": space.hall_mm,
            "across": space.across or "",
            "across_tried": space.across_tried or "",
            "turns_in_hall": _turns_in_hall(case, space),
            "first": tuple(first.get(space.name, ())),
            "stand": _stand(case, space),
            "_labels": {
                "at_home": f"whether the {space.name} is in the home",
                "speed_m_s": f"speed at the {space.name}",
                "distance": f"stopping distance at the {space.name}",
                "clear_width_mm": f"clear width of the {space.name}",
                "left": "overall length of the chair",
                "ahead_mm": f"clear space ahead at the {space.name}",
                "turning_mm": f"free floor to turn on at the {space.name}",
                "threshold_mm": f"threshold of the {space.name}",
                "inside_width_mm": f"width inside the {space.name}",
                "inside_depth_mm": f"depth inside the {space.name}",
                "floor": f"floor of the {space.name}",
                "slope_percent": f"slope of the {space.name}",
                "length_mm": f"length of the {space.name}",
                "stop_mm": f"stopping distance at the {space.name}",
            },
        }


def _done_first(case: Case, words: Words) -> dict[str, list[str]]:
    """What must be measured, tried or timed at each place, by its name, before the client drives there."""
    first: dict[str, list[str]] = {}
    for profile in case.configuration.profiles:
        for waiting in waits_in(case, profile):
            for name in waiting.places if waiting.why in words["done_first"] else ():
                first.setdefault(name, []).append(words["done_first"][waiting.why].format(says=waiting.says))
    return first


def _stand(case: Case, space: Space) -> Literal["told", "open", ""]:
    if not is_shared_room(case, space):
        return ""
    return "told" if stands_clear(case, space.id) else "open"


_FEW_WORDS = 3  # no more of them make no sentence


def _whole(space: Space) -> str:
    """What is told of a place; a few words alone follow its name."""
    says = space.says or ""
    return f"{capital(space.name)}: {inside(says)}." if 0 < len(says.split()) <= _FEW_WORDS else says


def _turns_in_hall(case: Case, space: Space) -> bool | None:
    circle_mm = case.configuration.chair.turning_mm
    return None if space.hall_mm is None or circle_mm is None else space.hall_mm >= circle_mm


def tightest(evidence: Evidence) -> tuple[StopThere, ...]:
    """The level places that leave the least room to stop in; more than one where they leave as much."""
    level = [there for there in evidence.stopping.places if not there.space.is_sloping and there.margin_m is not None]
    least = min((there.margin_m for there in level if there.margin_m is not None), default=None)
    return tuple(there for there in level if there.margin_m == least)


class RoomRow(TypedDict):
    """What a place in the home leaves free, each measure in words; threshold_mm is 0 where there is none, and no_ahead
    says that the chair stops in the room ahead there, which was not measured."""

    name: str
    measures: tuple[str, ...]
    threshold_mm: float
    no_ahead: bool


def rooms(case: Case, evidence: Evidence, words: Words) -> Iterator[RoomRow]:
    """Each place of which something was measured that bears on the chair, as an order tells it."""
    phrases = words["room"]
    for space in case.spaces:
        if not any(
            (
                space.clear_width_mm,
                space.turning_mm,
                space.clear_ahead_mm,
                space.slope_percent,
                space.length_mm,
                space.inside_width_mm,
            )
        ):
            continue
        sizes = {
            "clear": space.clear_width_mm,
            "turning": space.turning_mm,
            "ahead": space.clear_ahead_mm,
            "threshold": space.threshold_mm,
            "length": space.length_mm,
            "inside_width": space.inside_width_mm,
            "inside_depth": space.inside_depth_mm,
            "hall": space.hall_mm,
        }
        left = evidence.of("room_left", space.id) if space.ahead_from == "way_in" else None
        measures = [
            phrases[name].format(mm=mm(size, "up" if name in _NEEDED_UP else "down", words=words))
            for name, size in sizes.items()
            if size
        ]
        no_ahead = bool(space.profile) and not space.clear_ahead_mm
        if no_ahead:
            measures.append(phrases["no_ahead"])
        if left is not None and left.value is not None:
            at = [name for name, size in sizes.items() if size].index("ahead")
            room = phrases["left"].format(mm=mm(left.value, "down", words=words))
            measures[at] = f"{phrases['from_way_in'].format(ahead=measures[at])}, {room}"
        if space.slope_percent:
            measures.append(phrases["slope"].format(percent=decimal(f"{space.slope_percent:g}", words)))
        if space.rails:
            measures.append(words["rails"][space.rails])
        if space.across:
            measures.append(phrases[f"across_{space.across}"])
        if space.doors:
            measures.append(phrases["doors"].format(says=space.doors.rstrip(".")))
        yield {
            "name": space.name,
            "measures": tuple(measures),
            "threshold_mm": space.threshold_mm or 0,
            "no_ahead": no_ahead,
        }
