"""Elevators in which it is not settled where whoever must be within arm's reach stands as the chair drives in."""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.criterion import Grounds
from docgen.criteria.questions.stop_in_reach import STANDER_MM, WALKER_MM
from docgen.evidence.stopping_rule import StopThere


def places_crowded(grounds: Grounds) -> list[StopThere]:
    """The elevators without room for a person beside the chair or ahead of it, as far as that is measured, in which
    someone must be within arm's reach."""
    return [there for there in grounds.evidence.stopping.places if _is_crowded(grounds.case, there)]


def _is_crowded(case: Case, there: StopThere) -> bool:
    space, chair_mm, spare_m = there.space, case.configuration.chair.width_mm, there.margin_m
    if space.kind != "elevator" or not chair_mm or not space.clear_width_mm or spare_m is None:
        return False
    at_hand = any(space.id in p.covers and p.level in ("hands_on_stop", "arms_length") for p in case.supervision)
    return at_hand and space.clear_width_mm - chair_mm < WALKER_MM and spare_m * 1000 < STANDER_MM
