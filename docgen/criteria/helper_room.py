"""The room that a helper takes beside or ahead of the chair, and who has to come to it before they can stop it.

Source: body ellipse of 24 by 18 in, Fruin 1971, from memory.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.case.need import Space
from docgen.case.supervision import Supervision
from docgen.criteria.criterion import Grounds
from docgen.evidence.stopping_rule import StopThere

WALKER_MM = 610  # across the shoulders of someone who walks beside the chair: Fruin's body ellipse
STANDER_MM = 460  # and from front to back
ELSEWHERE = ("same_room", "in_sight")  # levels of supervision that let someone be away from the chair
AT_THE_CHAIR = ("beside", "behind")


def walks_up(place: Supervision) -> bool:
    """Whether whoever is near must come to the chair before they can stop it."""
    at_the_chair = place.level not in ELSEWHERE and place.stands in (*AT_THE_CHAIR, None)
    return place.stops_with != "remote_stop" and not at_the_chair


def places_crowded(grounds: Grounds) -> list[StopThere]:
    """The elevators without room for a person beside the chair or ahead of it, as far as that is measured, in which
    someone must be within arm's reach."""
    return [there for there in grounds.evidence.stopping.places if _is_crowded(grounds.case, there)]


def places_without_room(grounds: Grounds) -> list[StopThere]:
    """The elevators in which someone must be within arm's reach, and of which no measure shows room for them."""
    return [
        there
        for there in grounds.evidence.stopping.places
        if _is_at_hand(grounds.case, there.space) and not _has_room(grounds.case, there)
    ]


def rooms_without_a_stand(grounds: Grounds) -> list[StopThere]:
    """The level rooms in which someone must be near, with less floor left beside the circle that the chair turns in
    than a person takes, and of which nobody wrote where they stand."""
    case = grounds.case
    return [there for there in _rooms_shared(grounds) if not stands_clear(case, there.space.id)]


def stands_told(grounds: Grounds) -> list[str]:
    """Where whoever is near stands in such rooms, in the words of the record, each once."""
    words = [stands_clear(grounds.case, there.space.id) for there in _rooms_shared(grounds)]
    return [*dict.fromkeys(filter(None, words))]


def _rooms_shared(grounds: Grounds) -> list[StopThere]:
    return [there for there in grounds.evidence.stopping.places if is_shared_room(grounds.case, there.space)]


def is_shared_room(case: Case, space: Space) -> bool:
    """Whether someone must be near in a level room with less floor left beside the circle that the chair turns in than
    a person takes."""
    circle_mm = case.configuration.chair.turning_mm
    if not circle_mm or not space.turning_mm or space.is_sloping or space.turning_mm - circle_mm >= STANDER_MM:
        return False
    return any(space.id in place.covers and place.is_near for place in case.supervision)


def stands_clear(case: Case, space: str) -> str:
    """Where whoever is near in a room stands while the chair turns, in the words of the record; empty where untold."""
    return next((p.stands_clear for p in case.supervision if space in p.covers and p.is_near and p.stands_clear), "")


def _is_crowded(case: Case, there: StopThere) -> bool:
    is_measured = case.configuration.chair.width_mm and there.space.clear_width_mm and there.margin_m is not None
    return bool(is_measured) and _is_at_hand(case, there.space) and not _has_room(case, there)


def _is_at_hand(case: Case, space: Space) -> bool:
    """Whether someone must be within arm's reach in an elevator."""
    return space.kind == "elevator" and any(
        space.id in p.covers and p.level in ("hands_on_stop", "arms_length") for p in case.supervision
    )


def _has_room(case: Case, there: StopThere) -> bool:
    """Whether a measure shows room for a person beside the chair or ahead of it."""
    chair_mm, width_mm, spare_m = case.configuration.chair.width_mm, there.space.clear_width_mm, there.margin_m
    beside = bool(chair_mm and width_mm) and (width_mm or 0) - (chair_mm or 0) >= WALKER_MM
    return beside or (spare_m is not None and spare_m * 1000 >= STANDER_MM)
