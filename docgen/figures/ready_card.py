"""The driver ready to drive, from the left: what each step of getting ready is about, named beside its place."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.panels import bounds, composed, panel, text_width
from docgen.figures.rider import armrest_from_left, chair_from_left, driver_from_left, scaled, sizes_of
from docgen.scene import LETTERS_PT, Circle, Line, Scene, Shape, Text

MADE_FROM = ("configuration.chair.seat_depth_mm", "configuration.chair.back_height_mm")

_SCALE, _AWAY = 0.055, 6.0  # points for a mm; from the outline of the drawing to a name


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene:
    """The driver in the chair and the names, each beside the drawing with a line to its place; no numbers, for those
    of this side are of the parts."""
    size = sizes_of(case.configuration.chair)
    drawn: list[Shape] = scaled([*chair_from_left(size), *driver_from_left(size), *armrest_from_left(size)], _SCALE)
    left, _, right, _ = bounds(drawn)
    spots = (  # place in mm, and whether its name stands before the driver or behind
        ("head", -150.0, -size.back - 280, True),
        ("shoulders", -90.0, -size.back - 30, False),
        ("belt", -150.0, -165.0, True),
        ("hips", -30.0, -95.0, False),
        ("feet", -size.depth - 150, size.leg - 40, True),
    )
    for name, x_mm, y_mm, before in spots:
        x, y, named = x_mm * _SCALE, y_mm * _SCALE, words[f"ready_{name}"]
        edge = left - _AWAY if before else right + _AWAY
        at = edge - text_width(named, True) - 3 if before else edge + 3
        drawn += [
            Line(x, y, edge, y, 1.2),
            Circle(x, y, 2.2, fill=0.0),
            Text(at, y + 0.35 * LETTERS_PT, named, LETTERS_PT, True),
        ]
    return composed([panel(drawn, words["card_ready_alt"], words["card_ready"])])
