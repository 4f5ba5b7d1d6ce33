"""What the steps of an emergency page use: each switch as they leave it, the part that swings away, the seat all the
way up and tilted back with what moves it and the marks that show that it is back: the two ways that nobody may mix up.
Drawn as far as the record says it."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.evidence.fact import Evidence
from docgen.figures.panels import bounds, composed, lettered, panel
from docgen.figures.rider import (
    Sizes,
    armrest_from_left,
    base_from_left,
    driver_from_left,
    scaled,
    seat_from_left,
    sizes_of,
)
from docgen.figures.strokes import arrow, moved, ringed, turned
from docgen.figures.swing_ways import swing_pair
from docgen.figures.switch_ways import ways_for_the_seat
from docgen.scene import Line, Rect, Scene, Shape

# as in emergency_back: where a stranger finds and moves what the steps name
MADE_FROM = (Privacy.EMERGENCY,)

_SCALE, _ROOM, _APART = 0.041, 84.0, 5.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """Both ways, before them the switches without which the seat is still; None where the tilt or the way of its switch
    is unknown."""
    raises, tilt = case.sitting.seat_switch_raises, case.weight_shift.tilt_deg
    if not (raises and tilt and case.sitting.seat_switch):
        return None
    size, stop = sizes_of(case.configuration.chair), case.configuration.stop
    meet = bool(case.weight_shift.marks_meet)
    swung = swing_pair(case, words)
    ways = [
        _way("seat_up", size, 0.0, raises, False, words),
        _way("seat_back", size, tilt, "down" if raises == "up" else "up", meet, words),
    ]
    return composed([*ways_for_the_seat(stop, words), *([swung] if swung else []), *ways])


def _way(name: str, size: Sizes, tilt: float, pushed: str, meet: bool, words: Mapping[str, str]) -> Scene:
    """The chair with its driver, tilted so far; beside it the switch with the way it is held."""
    seat = [*seat_from_left(size), *driver_from_left(size), *armrest_from_left(size)]
    drawn = scaled([*base_from_left(size), *turned(seat, tilt)], _SCALE)
    left, top, right, _ = bounds(drawn)
    x = right + _APART
    tip, start = (top + 24, top + 58) if pushed == "up" else (top + 58, top + 24)
    switch: list[Shape] = [
        Rect(x, top + 20, 18, 42, fill=0.85, radius=4),
        *arrow([(x + 9, start), (x + 9, tip)], 3.0, 11),
        *ringed(x + 9, top + 8, "G"),
    ]
    marks: list[Shape] = []
    if meet:
        marks = [
            Rect(x, top + 64, 18, 22, fill=0.94, radius=2),
            Rect(x + 18, top + 64, 18, 22, fill=0.75, radius=2),
            Line(x + 4, top + 75, x + 17.5, top + 75, 4.0),
            Line(x + 18.5, top + 75, x + 32, top + 75, 4.0),
        ]
    title, y = lettered(0.0, 0.0, words[name], _ROOM, True)
    how_far, _ = lettered(0.0, y, words[f"{name}_seen" if meet or name == "seat_up" else "seat_back_unseen"], _ROOM)
    named = [*title, *how_far]
    below = bounds(named)[3] + 6
    return panel([*named, *moved([*drawn, *switch, *marks], 1, -left, below - top)], words[f"{name}_alt"])
