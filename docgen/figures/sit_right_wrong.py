"""How the driver sits, right beside wrong: hips, belt, feet and shoulders. Each pair differs in one thing alone."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.panels import bounds, composed, panel
from docgen.figures.rider import (
    RIGHT,
    Sits,
    Sizes,
    foot_from_left,
    lap_from_left,
    scaled,
    seat_from_behind,
    sizes_of,
)
from docgen.figures.strokes import moved, right, wrong
from docgen.scene import Scene, Shape

MADE_FROM = ("configuration.chair.seat_depth_mm", "configuration.chair.back_height_mm", "configuration.mounting")

_ROOM, _BETWEEN, _HIGH = 120.0, 8.0, 52.0  # so that two pairs stand in a column; between right and wrong; the tallest
_WRONG = {
    "hips": Sits(slid_mm=150),
    "belt": Sits(belt_mm=105),
    "feet": Sits(feet_mm=190),
    "shoulders": Sits(leans_deg=13),
}


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene:
    """Four pairs under their words."""
    size = sizes_of(case.configuration.chair)
    # a foot that drives has its place at the control: what is drawn holds for the other one
    drives = any(mount.site == "foot" for mount in case.configuration.mounting)
    return composed([_pair(step, size, words, "foot" if drives and step == "feet" else step) for step in _WRONG])


def _pair(step: str, size: Sizes, words: Mapping[str, str], name: str) -> Scene:
    """One thing right and wrong, under its words."""
    drawn_mm = [_drawn(step, size, sits) for sits in (RIGHT, _WRONG[step])]
    wide_mm = sum(bounds(shapes)[2] - bounds(shapes)[0] for shapes in drawn_mm)
    high_mm = max(bounds(shapes)[3] - bounds(shapes)[1] for shapes in drawn_mm)
    scale = min((_ROOM - 2 * _BETWEEN) / wide_mm, _HIGH / high_mm)
    pair = [(scaled(shapes, scale), sign) for shapes, sign in zip(drawn_mm, (right, wrong), strict=True)]
    shapes: list[Shape] = []
    x = 0.0
    for drawn, sign in pair:
        left, top, far, bottom = bounds(drawn)
        at = (x + (far - left) / 2, bottom + 11) if step == "shoulders" else (x + 10, top + 10)  # where it is free
        shapes += [*moved(drawn, 1, x - left), *sign(*at)]
        x += far - left + _BETWEEN
    return panel(shapes, words[f"sit_{name}_alt"], words[f"sit_{name}"], room=_ROOM)


def _drawn(step: str, size: Sizes, sits: Sits) -> list[Shape]:
    """What is drawn of the driver for this thing, in mm."""
    match step:
        case "shoulders":
            return seat_from_behind(size, sits)
        case "feet":
            return foot_from_left(size, sits)
    return lap_from_left(size, sits)
