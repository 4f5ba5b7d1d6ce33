"""Where a helper stands, from above: behind or beside the chair as the record has it of a place that is driven now, and
while the chair backs out through a door; never in its path, and on the side of the stop switch that they press."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from docgen.case.model import Case
from docgen.case.supervision import Supervision
from docgen.figures.chair import chair_from_above
from docgen.figures.panels import bounds, lettered, panel
from docgen.figures.strokes import arrow, moved, oval, right, wrong
from docgen.scene import LETTERS_PT, Line, Scene, Shape, Text

_SCALE, _ROOM = 0.31, 120.0
_SPOTS = {"behind": (40.0, 38.0), "beside": (42.0, 4.0)}  # of the helper from the middle of the chair, in points


def stands_drawn(case: Case) -> bool:
    """Whether the record says where a helper stands, or every place is barred and a session has a place beside it."""
    if driven := _driven(case):
        return any(place.stands in _SPOTS or place.backs_out_stands for place in driven)
    return bool(case.supervision and case.configuration.stop.at_hand[0])


def _driven(case: Case) -> list[Supervision]:
    """The places that are driven now with somebody near."""
    return [place for place in case.supervision if place.is_near and not place.for_now]


def helper_panels(case: Case, words: Mapping[str, str]) -> list[Scene]:
    """A plan for each way to stand that some place of the record has, each under its words and with its places."""
    driven = _driven(case)
    side = -1 if (case.configuration.stop.at_hand[1] or "").endswith("_left") else 1
    panels: list[Scene] = []
    if not driven and case.supervision and case.configuration.stop.at_hand[0]:
        # every place is barred for now: the chair is driven in sessions alone, a hand on its stop
        shapes = [*moved(_chair_driving(), 1), *_person(side * _SPOTS["beside"][0], _SPOTS["beside"][1], words)]
        panels.append(_plan(shapes, words["stand_training"], [words["stand_training_alt"]]))
    for stands, spot in _SPOTS.items():
        if where := [place for place in driven if place.stands == stands]:
            shapes = [*moved(_chair_driving(), 1), *_person(side * spot[0], spot[1], words)]
            panels.append(_plan(shapes, words[f"stand_{stands}"], [place.place for place in where]))
    if where := [place for place in driven if place.backs_out_stands]:
        panels.append(
            _plan(
                [*_backing(side), *_person(side * 54, 39, words), *right(side * 54, 21)],
                words["stand_backing"],
                [place.place for place in where],
            )
        )
    return panels


def _plan(shapes: Sequence[Shape], title: str, where: Sequence[str]) -> Scene:
    """The drawing under its words."""
    named, y = lettered(0.0, 0.0, title, _ROOM, True)
    left, top, _, _ = bounds(shapes)
    drawn = moved(shapes, 1, -left, y - 8 - top)
    return panel([*named, *drawn], f"{title}: {', '.join(where)}.")


def _chair_driving() -> list[Shape]:
    """The chair with the way it goes, and the sign that nobody stands there."""
    chair = chair_from_above(0, 0, _SCALE)
    top = bounds(chair)[1]
    return [*chair, *arrow([(0, top - 2), (0, top - 20)], 2.4, 9), *wrong(-22, top - 12)]


def _backing(side: int) -> list[Shape]:
    """The chair half through a door, backwards; the signs that no hand is between chair and door frame.

    side  1 where the helper is at its right, -1 at its left: the wall is longer there
    """
    chair = chair_from_above(0, 0, _SCALE)
    bottom = bounds(chair)[3]
    walls: list[Shape] = [Line(-side * 58, 8, -side * 32, 8, 5.0), Line(side * 32, 8, side * 74, 8, 5.0)]
    never = [*wrong(-29, 8), *wrong(29, 8)]
    return [*walls, *chair, *arrow([(0, bottom + 2), (0, bottom + 20)], 2.4, 9), *never]


def _person(x: float, y: float, words: Mapping[str, str]) -> list[Shape]:
    """The helper from above, named on the side away from the chair."""
    return [
        oval(x, y, 13, 6, 0.3),
        oval(x, y, 5.5, 6.5, 0.94),
        Text(x + 16 if x > 0 else x - 16, y + 4.2, words["helper_here"], LETTERS_PT, True, "start" if x > 0 else "end"),
    ]
