"""How the chair comes out of a place that it drives into: turned round, or backward."""

from __future__ import annotations

import re
from collections.abc import Sequence

from docgen.case.model import Case
from docgen.case.need import Activity, Space
from docgen.case.tried import Task

# which words tell of backing up, where what someone wrote is held against the record, and so that no page tells it
# twice: common use, no source
BACKING = re.compile(
    r"\b(backs? (out|up|away)|back(ing|ed) (out|up|away)|backing|backward|in reverse|reversing)\b", re.IGNORECASE
)

_BATHROOM = re.compile(r"\b(?:bath|shower|rest)[ -]?room\b|\btoilet door\b", re.IGNORECASE)
_IN_BATHROOM = ("toileting", "bathing")


def is_entered(space: Space) -> bool:
    """Whether the chair drives into a room there, of which the length from the way in is measured."""
    return space.kind in ("doorway", "elevator") and space.ahead_from == "way_in"


def floor_mm(space: Space) -> float | None:
    """The floor to turn on, in mm; of an elevator that has none recorded, its shorter side."""
    if space.turning_mm is not None or space.kind != "elevator":
        return space.turning_mm
    if space.clear_width_mm is None or space.clear_ahead_mm is None:
        return None
    return min(space.clear_width_mm, space.clear_ahead_mm)


def cannot_turn(case: Case, space: Space) -> bool:
    """Whether nothing recorded of a place that is driven into has the chair turn there."""
    floor, circle_mm = floor_mm(space), case.configuration.chair.turning_mm
    return is_entered(space) and (floor is None or circle_mm is None or floor < circle_mm)


def has_narrow_hall(case: Case, space: Space) -> bool:
    """Whether the hall in front of a door is measured, and too narrow for the chair to turn in."""
    circle_mm = case.configuration.chair.turning_mm
    return space.hall_mm is not None and circle_mm is not None and space.hall_mm < circle_mm


def goes_straight_across(space: Space) -> bool:
    """Whether another door is straight across the hall from it, and that way was tried."""
    return space.across == "door" and bool(space.across_tried)


def may_not_turn(case: Case, space: Space) -> bool:
    """Whether the chair cannot turn there, or would not if the length were measured from the way in, which nobody
    says."""
    entered = space.model_copy(update={"ahead_from": "way_in"}) if space.ahead_from is None else space
    return cannot_turn(case, entered)


def backing_tried(case: Case) -> bool:
    """Whether a task of the trial has the requested control back the chair up."""
    return any(task.backs for task in _tasks_driven(case))


def turning_tried(case: Case) -> bool:
    """Whether a task of the trial has the requested control turn the chair round in place."""
    return any(task.turns for task in _tasks_driven(case))


def _tasks_driven(case: Case) -> list[Task]:
    """The tasks of the trial of which the requested control has rows."""
    tasks = {row.task for row in case.tried if row.method == case.configuration.method}
    return [task for task in case.trial.tasks if task.id in tasks]


def in_rooms_not_backed_out_of(case: Case) -> list[Activity]:
    """Activities at home in a bathroom that the chair can leave only backward, where no task of the trial was to back
    up: those for the toilet and the bath, and what names the bathroom. What is not recorded of reverse, of where the
    bathroom is or from where its length is measured rules nothing out."""
    if case.configuration.backs is False or backing_tried(case):
        return []
    bathrooms = (space for space in case.spaces if _BATHROOM.search(space.name) and space.at_home is not False)
    if not any(may_not_turn(case, space) for space in bathrooms):
        return []
    return [a for a in case.activities if a.at_home and _is_in_bathroom(a)]


def in_rooms_not_turned_in(case: Case) -> list[Activity]:
    """Activities at home that a chair without reverse can leave only by turning round there, where no task of the trial
    was to turn in place."""
    return [] if turning_tried(case) else in_rooms_turned_in(case)


def in_rooms_not_come_out_of(case: Case) -> list[Activity]:
    """Activities at home in a room that the chair can leave by turning or backward, where the trial had neither."""
    if case.configuration.backs is False or backing_tried(case) or turning_tried(case):
        return []
    return _done_in(case, [s for s in case.spaces if s.kind == "turning" or is_entered(s) and not cannot_turn(case, s)])


def in_rooms_pushed_out_of(case: Case) -> list[Activity]:
    """Activities at home in a room that the chair is pushed out of until the client comes out of it reliably."""
    return _done_in(case, [space for space in case.spaces if space.pushed_out])


def in_rooms_turned_in(case: Case) -> list[Activity]:
    """Activities at home that a chair without reverse can leave only by turning round: those in a bathroom that it
    drives into, and those that name a room measured for turning."""
    if case.configuration.backs is not False:
        return []
    return _done_in(case, [s for s in case.spaces if s.kind == "turning" or _BATHROOM.search(s.name) and is_entered(s)])


def _done_in(case: Case, rooms: Sequence[Space]) -> list[Activity]:
    """Activities at home in one of these rooms, those of them that are not recorded as away: for a bathroom those for
    the toilet and the bath and what names it, else what names the room."""
    home = [space for space in rooms if space.at_home is not False]
    return [a for a in case.activities if a.at_home and any(_is_done_in(a, space) for space in home)]


def _is_done_in(activity: Activity, space: Space) -> bool:
    in_bathroom = bool(_BATHROOM.search(space.name)) and _is_in_bathroom(activity)
    return in_bathroom or space.name.casefold() in f"{activity.name} {activity.says or ''}".casefold()


def _is_in_bathroom(activity: Activity) -> bool:
    return activity.needed_for in _IN_BATHROOM or bool(_BATHROOM.search(activity.name))
