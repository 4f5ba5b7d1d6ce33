"""The chair and its rider tied down in a van, from the left: straps in front and behind, the van's belt over lap and
shoulder. Drawn only where the record has both."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.figures.panels import panel
from docgen.figures.rider import armrest_from_left, chair_from_left, driver_from_left, scaled, sizes_of
from docgen.scene import LETTERS_PT, Line, Scene, Shape, Text

_SCALE = 0.056


def ride_panel(case: Case, words: Mapping[str, str]) -> Scene | None:
    """The drawing; None unless four tie-downs and the van's own belt are recorded."""
    ride = case.transport
    if not (ride.rides_in_chair and ride.four_tie_downs == "yes" and ride.own_belt == "yes"):
        return None
    size = sizes_of(case.configuration.chair)
    floor, front = size.leg + 90, -size.depth
    straps: list[Shape] = [
        Line(front + 60, size.leg - 60, front - 420, floor, 3.0),
        Line(60, size.leg - 120, 480, floor, 3.0),
        Line(front - 600, floor, 640, floor, 1.4),
        Line(-20, 0, -200, -190, 3.0),
        Line(-200, -190, -60, -size.back - 110, 3.0),
        Line(-60, -size.back - 110, 480, -size.back - 240, 3.0),
    ]
    drawn = scaled([*chair_from_left(size), *driver_from_left(size), *armrest_from_left(size), *straps], _SCALE)
    below, over = floor * _SCALE + LETTERS_PT, (-size.back - 60) * _SCALE
    names: list[Shape] = [
        Text(-20, over, words["ride_belt"], LETTERS_PT, True, "end"),
        Line(-18, over - 3, -130 * _SCALE, (-size.back + 140) * _SCALE, 0.9),
        Text((front - 300) * _SCALE, below, words["ride_two"], LETTERS_PT, True, "middle"),
        Text(400 * _SCALE, below, words["ride_two"], LETTERS_PT, True, "middle"),
    ]
    return panel([*drawn, *names], words["ride_alt"])
