"""The driver ready to drive, from the left: the number of each step of getting ready beside what it is about."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.panels import bounds, composed, panel
from docgen.figures.rider import armrest_from_left, chair_from_left, driver_from_left, scaled, sizes_of
from docgen.figures.strokes import ringed
from docgen.scene import Circle, Line, Scene, Shape

MADE_FROM = ("configuration.chair.seat_depth_mm", "configuration.chair.back_height_mm")

_SCALE, _AWAY = 0.082, 15.0  # points for a mm; from the outline of the drawing to the middle of a number


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene:
    """The driver in the chair and the four numbers, each beside the drawing with a line to its place."""
    size = sizes_of(case.configuration.chair)
    drawn: list[Shape] = scaled([*chair_from_left(size), *driver_from_left(size), *armrest_from_left(size)], _SCALE)
    left, _, right, _ = bounds(drawn)
    spots = (  # place in mm, and whether its number stands before the driver or behind
        ("1", -30.0, -95.0, False),
        ("2", -150.0, -165.0, True),
        ("3", -size.depth - 150, size.leg - 40, True),
        ("4", -150.0, -size.back - 280, True),
    )
    for number, x_mm, y_mm, before in spots:
        x, y = x_mm * _SCALE, y_mm * _SCALE
        edge = left - _AWAY if before else right + _AWAY
        drawn += [Line(x, y, edge, y, 1.2), Circle(x, y, 2.2, fill=0.0), *ringed(edge, y, number)]
    return composed([panel(drawn, words["card_ready_alt"])])
