"""How the chair comes out of a place that it drives into: turned round, or backward."""

from __future__ import annotations

import re

from docgen.case.model import Case
from docgen.case.need import Activity, Space

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


def backing_tried(case: Case) -> bool:
    """Whether a task of the trial has the requested control back the chair up."""
    tasks = {row.task for row in case.tried if row.method == case.configuration.method}
    return any(task.backs for task in case.trial.tasks if task.id in tasks)


def in_rooms_not_backed_out_of(case: Case) -> list[Activity]:
    """Activities at home in a bathroom that the chair can leave only backward, where no task of the trial was to back
    up: those for the toilet and the bath, and what names the bathroom."""
    if case.configuration.backs is not True or backing_tried(case):
        return []
    if not any(_BATHROOM.search(space.name) and space.at_home and cannot_turn(case, space) for space in case.spaces):
        return []
    return [a for a in case.activities if a.at_home and (a.needed_for in _IN_BATHROOM or _BATHROOM.search(a.name))]
