"""The shapes of one part of a control beside the body, from places and sizes in mm.

Pad, joystick or tube, gap and number, each turned as the part is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec.structs import replace

from docgen.figures.outlines import Outline
from docgen.figures.placing import Drawn
from docgen.figures.strokes import moved, ringed, span, turned
from docgen.scene import Circle, Poly, Rect, Shape

SCALE = 0.41  # points per mm
PAD_MM = 12.0  # how thick a part is drawn whose thickness is not recorded
PLATE_MM = 4.0  # of the plate behind a pad
_MOST_THICK_MM = 40.0  # the thickest drawn
_GREY = 0.7


def outlined(outline: Outline, fill: float | None = 0.95, width: float = 1.0) -> Poly:
    """An outline in mm, as of the body, to the scale of the drawing."""
    return Poly(tuple((round(x * SCALE, 2), round(y * SCALE, 2)) for x, y in outline), fill=fill, width=width)


def block(left: float, top: float, w: float, h: float, is_round: bool = False) -> Circle | Rect:
    """A part seen square to the page, its left upper corner and its size in mm; a round one as wide as `w`."""
    if is_round:
        return Circle((left + w / 2) * SCALE, (top + h / 2) * SCALE, w / 2 * SCALE, fill=_GREY, width=1.2)
    return Rect(left * SCALE, top * SCALE, w * SCALE, h * SCALE, fill=_GREY, radius=2, width=1.2)


def dashed_block(left: float, top: float, w: float, h: float) -> Poly:
    """Outline of a part that is under the body here, or above it."""
    corners = ((left, top), (left + w, top), (left + w, top + h), (left, top + h))
    return Poly(tuple((x * SCALE, y * SCALE) for x, y in corners), width=1.4, dash=(3.0, 2.0))


def gap_span(x1: float, y1: float, x2: float, y2: float) -> list[Shape]:
    """The mark of a gap between two points in mm."""
    return span(x1 * SCALE, y1 * SCALE, x2 * SCALE, y2 * SCALE)


def thickness(part: Drawn) -> float:
    """How thick a part is drawn, from its face to its plate, in mm."""
    return min(part.mount.thick_mm or PAD_MM, _MOST_THICK_MM)


def pad_and_plate(part: Drawn, x: float, y: float, dx: int, dy: int) -> list[Shape]:
    """A pad or a switch seen along its face, whose middle is at x, y, with the plate that holds it.

    dx, dy  the way from the face to the plate; a switch has the edge of its cap behind the face
    """
    thick, half = thickness(part), (part.long if dx else part.wide) / 2
    if dx:
        box = block(min(x, x + dx * thick), y - half, thick, 2 * half)
        plate = block(x + dx * thick + (0 if dx > 0 else -PLATE_MM), y - half * 0.6, PLATE_MM, 1.2 * half)
        cap = ((x + dx * thick * 0.4, y - half), (x + dx * thick * 0.4, y + half))
    else:
        box = block(x - half, min(y, y + dy * thick), 2 * half, thick)
        plate = block(x - half * 0.6, y + dy * thick + (0 if dy > 0 else -PLATE_MM), 1.2 * half, PLATE_MM)
        cap = ((x - half, y + dy * thick * 0.4), (x + half, y + dy * thick * 0.4))
    edge: list[Shape] = [outlined(cap, None, 0.8)] if part.round else []
    return [replace(plate, fill=0.3, radius=1.0), box, *edge] if isinstance(plate, Rect) else [box]


def tube(x: float, y: float, way: tuple[tuple[float, float], ...]) -> list[Shape]:
    """The breath tube from x, y along a way, in mm: white between two lines."""
    points = tuple((round((x + a) * SCALE, 2), round((y + b) * SCALE, 2)) for a, b in ((0.0, 0.0), *way))
    return [Poly(points, closed=False, width=6.0), Poly(points, closed=False, width=3.6, stroke=1.0)]


def has_room(room: float) -> bool:
    """Whether a number stands in a part of this size in mm."""
    return room * SCALE >= 21


def numbered(part: Drawn, x: float, y: float, dx: float, dy: float, room: float) -> list[Shape]:
    """The number in the part when there is room for it, else beside its edge at x, y on the side that dx, dy point
    to."""
    if has_room(room):
        return ringed(x * SCALE, y * SCALE, str(part.number))
    return ringed(x * SCALE + 12 * dx, y * SCALE + 12 * dy, str(part.number))


def turn_of(part: Drawn, axis: str) -> float:
    """How far a part is turned about an axis, in degrees; none for a stick, and for what the footplate turns with
    itself."""
    mount = part.mount
    leans = not part.stands and mount.angle_axis == axis and mount.held_by != "footplate"
    return mount.angle_deg or 0.0 if leans else 0.0


def as_part_sees(outline: Outline, x: float, y: float, degrees: float) -> Outline:
    """The outline turned back about x, y by the angle of a part, so that the face of the part is square to the page.

    The gap is then measured across the face, and what is drawn is turned with the part by `leaning`.
    """
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return tuple((x + (a - x) * cos + (b - y) * sin, y - (a - x) * sin + (b - y) * cos) for a, b in outline)


def leaning(shapes: Sequence[Shape], x: float, y: float, degrees: float) -> list[Shape]:
    """A part, its gap and its number turned clockwise about x, y in mm.

    A yaw to the right is clockwise from above, and a pitch to the back is so from the left.
    """
    if not degrees:
        return list(shapes)
    back = moved(shapes, 1, -x * SCALE, -y * SCALE)
    return moved(turned(back, degrees), 1, x * SCALE, y * SCALE)
