"""The driver ready to drive, from the left: each thing to see to with its number, in the order of doing."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.panels import bounds, composed, lettered, panel
from docgen.figures.rider import armrest_from_left, chair_from_left, driver_from_left, scaled, sizes_of
from docgen.figures.strokes import ringed
from docgen.scene import Scene, Shape

MADE_FROM = ("configuration.chair.seat_depth_mm", "configuration.chair.back_height_mm")

_SCALE, _ROOM = 0.082, 132.0  # points for a mm; width of the words
_STEPS = ("hips", "belt", "feet", "head")


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene:
    """The driver in the chair and the four things beside."""
    return composed([ready_panel(case, words["card_ready"], words)])


def ready_panel(case: Case, title: str, words: Mapping[str, str], room: float = _ROOM) -> Scene:
    """The picture of `scene` as one panel under a title."""
    size = sizes_of(case.configuration.chair)
    at = {
        "hips": (-40.0, -62.0),
        "belt": (-265.0, -92.0),
        "feet": (-size.depth - 190, size.leg - 70),
        "head": (-102.0, -size.back - 280),
    }
    drawn: list[Shape] = scaled([*chair_from_left(size), *driver_from_left(size), *armrest_from_left(size)], _SCALE)
    _, top, right, _ = bounds(drawn)
    y = top + 14
    for number, step in enumerate(_STEPS, 1):
        x_mm, y_mm = at[step]
        drawn += ringed(x_mm * _SCALE, y_mm * _SCALE, str(number))
        line, y = lettered(right + 8, y, words[f"ready_{step}"], room, True)
        drawn += line
        y += 5
    return panel(drawn, words["card_ready_alt"], title)
