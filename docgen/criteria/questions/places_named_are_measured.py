"""A place that a goal or an activity names is measured.

Asks: Whether each bathroom, kitchen, bedroom and elevator that an activity or a goal speaks of is among the spaces with
    what it takes to judge it: a clear width or the floor to turn on, and of an elevator width and depth; and whether
    the chair is shorter than the elevator is deep.
Why a payer asks: A gain in a room never measured has no support; an elevator too short is no way out.
What settles it: A space in [[spaces]] with that name and clear_width_mm or turning_mm; of an elevator inside_width_mm
    and inside_depth_mm, or clear_width_mm and clear_ahead_mm.
Source: L33789 criterion M and the on-site home report; which word means which room is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.need import Space
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend, NewEntry, add_entry, fill_in
from docgen.criteria.sentences import listed
from docgen.grammar import with_verb
from docgen.units import length

HEADING = "record"
CLAIM = "Each place that is named is measured"
SHOWN_IN = ("letter: Safety and Home Environment",)
NOT_FOR = ("control_only",)
SETTINGS: dict[str, object] = {}

_ROOMS = {
    "bathroom": ("bathroom", "toilet", "shower", "washroom"),
    "kitchen": ("kitchen",),
    "bedroom": ("bedroom",),
    "elevator": ("elevator", "lift"),
}
_WIDTH_OR_FLOOR = ("clear_width_mm", "turning_mm", "inside_width_mm")


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    named = {room: [*_naming(case, room)] for room in _ROOMS}
    lifts = [(at, space) for at, space in enumerate(case.spaces) if space.kind == "elevator"]
    if not case.activities and not case.goals:
        return cannot_tell(
            "No activity and no goal is recorded.", ("activities",), ("goals",), mend=add_entry("activities", "name")
        )
    if not any(named.values()) and not lifts:
        return does_not_apply("No activity or goal names a room or an elevator.", ("activities",), ("goals",))
    if lacking := _lift_lacking(case, lifts) or _room_lacking(case, named):
        return lacking
    return met(
        (
            "Each place that an activity or a goal names is measured: "
            f"{listed(room for room in _ROOMS if named[room] or (room == 'elevator' and lifts))}."
        ),
        ("spaces",),
    )


def _lift_lacking(case: Case, lifts: Sequence[tuple[int, Space]]) -> Answer | None:
    """An elevator shorter than the chair, or without width or depth; None where there is none such."""
    length_mm = case.configuration.chair.length_mm
    if short := [(at, s) for at, s in lifts if length_mm and (_depth(s) or length_mm) < length_mm]:
        at, lift = short[0]
        return not_met(
            f"The {with_verb(lift.name, 'is')} {length(recorded(_depth(lift)), 'down')} deep and the chair "
            f"{length(recorded(length_mm), 'up')} long.",
            ("spaces", at, "inside_depth_mm" if lift.inside_depth_mm else "clear_ahead_mm"),
            ("configuration", "chair", "length_mm"),
            mend="Measure both again; if they are right, ask for a shorter chair or record another way.",
        )
    if bare := [(at, s) for at, s in lifts if not (_depth(s) and (s.inside_width_mm or s.clear_width_mm))]:
        return cannot_tell(
            f"Width and depth of the {listed(space.name for _, space in bare)} are not both recorded.",
            *(("spaces", at) for at, _ in bare),
            mend=fill_in({"inside_width_mm": "<mm>", "inside_depth_mm": "<mm>"}, " of the elevator"),
        )
    return None


def _depth(lift: Space) -> float | None:
    """How deep an elevator is: inside, else the way ahead in it, in mm."""
    return lift.inside_depth_mm or lift.clear_ahead_mm


def _room_lacking(case: Case, named: Mapping[str, Sequence[KeyPath]]) -> Answer | None:
    """A room that is named and not measured; None where each is."""
    unmeasured = {room: paths for room, paths in named.items() if paths and not _measured(case, room)}
    if unmeasured:
        room = next(iter(unmeasured))
        return cannot_tell(
            (
                f"An activity or a goal names the {listed(unmeasured)}, and no space of that name is recorded "
                "with its measures."
            ),
            *(path for paths in unmeasured.values() for path in paths),
            ("spaces",),
            mend=Mend(
                f"Add [[spaces]] for the {room} with clear_width_mm or turning_mm, or fill it in.",
                add=(NewEntry("spaces", ("clear_width_mm", "clear_ahead_mm")),),
            ),
        )
    return None


def _naming(case: Case, room: str) -> Iterator[KeyPath]:
    """Where an activity or a goal names the room."""
    for at, activity in enumerate(case.activities):
        if _names(room, activity.name, activity.says):
            yield "activities", at
    for at, goal in enumerate(case.goals):
        if _names(room, goal.says, *goal.levels):
            yield "goals", at


def _names(room: str, *texts: str | None) -> bool:
    words = "|".join(_ROOMS[room])
    return any(re.search(rf"\b(?:{words})s?\b", text or "", re.IGNORECASE) for text in texts)


def _measured(case: Case, room: str) -> bool:
    return any(_is(room, space) and any(getattr(space, key) for key in _WIDTH_OR_FLOOR) for space in case.spaces)


def _is(room: str, space: Space) -> bool:
    return space.kind == "elevator" if room == "elevator" else _names(room, space.name)
