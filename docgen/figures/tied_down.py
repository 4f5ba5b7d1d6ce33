"""The chair and its rider tied down in a van, from the left: straps in front and behind at their points, the van's belt
over lap and shoulder, what is behind the head. Drawn only where the record has both straps and belt."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.figures.panels import LEAD, broken, lettered, panel
from docgen.figures.rider import armrest_from_left, chair_from_left, driver_from_left, scaled, sizes_of
from docgen.scene import LETTERS_PT, Circle, Line, Rect, Scene, Shape, Text

_SCALE, _LABEL, _BELT = 0.045, 92.0, 64.0


def ride_drawn(case: Case) -> bool:
    """Whether four tie-downs and the van's own belt are recorded of a ride in the chair."""
    ride = case.transport
    return bool(ride.rides_in_chair and ride.four_tie_downs == "yes" and ride.own_belt == "yes")


def ride_panel(case: Case, words: Mapping[str, str]) -> Scene | None:
    """The drawing; None unless four tie-downs and the van's own belt are recorded."""
    if not ride_drawn(case):
        return None
    ride = case.transport
    size = sizes_of(case.configuration.chair)
    floor, front, top = size.leg + 90, -size.depth, -size.back
    tied = (
        ((front + 60, size.leg - 60), (front - 420, floor)),
        ((60, size.leg - 120), (480, floor)),
    )
    straps: list[Shape] = [
        Line(front - 600, floor, 640, floor, 1.4),
        *(Line(x, y, far_x, far_y, 3.0) for (x, y), (far_x, far_y) in tied),
        *(Circle(x, y, 30, fill=1.0, width=1.6) for ends in tied for x, y in ends),
        Line(-20, 0, -200, -190, 3.0),
        Line(-200, -190, -60, top - 110, 3.0),
        Line(-60, top - 110, 480, top - 240, 3.0),
    ]
    clipped = ride.head_support_looks == "clips_on"
    rest: list[Shape] = [Rect(-8, top - 325, 44, 130, fill=0.25, radius=12)] if clipped else []
    drawn = scaled([*chair_from_left(size), *rest, *driver_from_left(size), *armrest_from_left(size), *straps], _SCALE)
    below, over = floor * _SCALE + LETTERS_PT + 1, (top - 60) * _SCALE
    belt, _ = lettered(-34, over, words["ride_belt"], _BELT, True, "end")
    names: list[Shape] = [
        *belt,
        Line(-32, over - 3, -130 * _SCALE, (top + 140) * _SCALE, 0.9),
        Text((front - 300) * _SCALE, below, words["ride_two"], LETTERS_PT, True, "middle"),
        Text(430 * _SCALE, below, words["ride_two"], LETTERS_PT, True, "middle"),
    ]
    if ride.head_support == "yes":
        at = (top - 420) * _SCALE
        label = words["ride_clipped" if clipped else "ride_head"]
        above = LEAD * (len(broken(label, _LABEL, True)) - 1)
        names += [
            *lettered(26 * _SCALE, at - above, label, _LABEL, True, "middle")[0],
            Line(26 * _SCALE, at + 3, 26 * _SCALE, (top - 300) * _SCALE, 0.9),
        ]
    return panel(
        [*drawn, *names], words["ride_alt"] + (f" {words['ride_clipped_alt']}" if clipped else ""), words["ride_title"]
    )
