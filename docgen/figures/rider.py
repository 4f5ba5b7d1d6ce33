"""The driver in the chair, from the left and from behind, in mm: to the measures of the chair where the case has them.

x to the right and y downwards from the place where the seat meets the back. Shares of the body are round figures from
memory; they only size the drawing. From the left the front is to the left.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from docgen.case.chair import Chair
from docgen.figures.outlines import head
from docgen.figures.strokes import moved, oval, turned
from docgen.scene import Circle, Line, Poly, Rect, Shape

Point = tuple[float, float]
_SKIN, _HAIR, _FRAME, _PAD = 0.94, 0.35, 0.55, 0.8
_LINE = 1.1


class Sizes(Struct, frozen=True):
    """Measures of a chair in mm: depth and width of the seat, height of the back, seat to foot plate, whole width."""

    depth: float
    seat: float
    back: float
    leg: float
    wide: float


class Sits(Struct, frozen=True):
    """How the driver sits: what differs between right and wrong, in mm and degrees.

    slid_mm   how far the hips have come forward
    belt_mm   how far the belt is above the fold of the hips
    feet_mm   how far the feet have come forward off the plate, the toes hanging
    leans_deg to the driver's right, seen from behind
    """

    slid_mm: float = 0.0
    belt_mm: float = 0.0
    feet_mm: float = 0.0
    leans_deg: float = 0.0


RIGHT = Sits()


def sizes_of(chair: Chair) -> Sizes:
    """The measures of the chair of the case; round figures where it has none, and within what can be drawn."""

    def within(measured: float | None, usual: float, least: float, most: float) -> float:
        return min(max(measured or usual, least), most)

    return Sizes(
        within(chair.seat_depth_mm, 430, 280, 520),
        within(chair.seat_width_mm, 420, 280, 520),
        within(chair.back_height_mm, 480, 360, 600),
        within(chair.leg_mm, 400, 270, 480),
        within(chair.width_mm, 630, 520, 720),
    )


def limb(first: Point, r1: float, last: Point, r2: float) -> tuple[Point, ...]:
    """The outline of a limb between two joints: two circles and what touches both on either side."""
    (x1, y1), (x2, y2) = first, last
    length = math.hypot(x2 - x1, y2 - y1)
    along = math.atan2(y2 - y1, x2 - x1)
    lean = math.acos(max(-1.0, min((r1 - r2) / length, 1.0)))
    steps = [i / 10 for i in range(11)]
    start = [along + lean + (math.tau - 2 * lean) * step for step in steps]
    end = [along - lean + 2 * lean * step for step in steps]
    return tuple((x1 + r1 * math.cos(a), y1 + r1 * math.sin(a)) for a in start) + tuple(
        (x2 + r2 * math.cos(a), y2 + r2 * math.sin(a)) for a in end
    )


def joined(outlines: Sequence[tuple[Point, ...]], fill: float = _SKIN) -> list[Shape]:
    """The outlines as one body: all edges first, then all grounds over the edges inside."""
    edges: list[Shape] = [Poly(outline, width=2 * _LINE) for outline in outlines]
    return [*edges, *(Poly(outline, fill=fill, stroke=None) for outline in outlines)]


def scaled(shapes: Sequence[Shape], scale: float) -> list[Shape]:
    """Shapes in mm as shapes in points; the lines keep their widths."""

    def to(shape: Shape) -> Shape:
        match shape:
            case Line(x1, y1, x2, y2, width, shade, dash):
                return Line(x1 * scale, y1 * scale, x2 * scale, y2 * scale, width, shade, dash)
            case Rect(x, y, w, h, fill, stroke, width, radius):
                return Rect(x * scale, y * scale, w * scale, h * scale, fill, stroke, width, radius * scale)
            case Circle(x, y, r, fill, stroke, width):
                return Circle(x * scale, y * scale, r * scale, fill, stroke, width)
            case Poly(points, closed, fill, stroke, width, dash):
                at = tuple((round(x * scale, 2), round(y * scale, 2)) for x, y in points)
                return Poly(at, closed, fill, stroke, width, dash)
        return shape

    return [to(shape) for shape in shapes]


# ---- from the left --------------------------------------------------------------------------------


def chair_from_left(size: Sizes) -> list[Shape]:
    """Base, wheels, seat, back, headrest, foot plate; what is nearer than the driver is in `armrest_from_left`."""
    return [*base_from_left(size), *seat_from_left(size)]


def base_from_left(size: Sizes) -> list[Shape]:
    """What stays level when the seat tilts: base, wheels, and the post that bears the seat."""
    front, floor = -size.depth, size.leg + 90
    return [
        Circle(-size.depth * 0.95, floor - 60, 60, fill=0.9, width=_LINE),
        Circle(120, floor - 75, 75, fill=0.9, width=_LINE),
        Rect(front * 0.8, 80, size.depth * 0.8 + 110, floor - 230, fill=0.7, radius=30, width=_LINE),
        Circle(-size.depth * 0.3, floor - 165, 165, fill=0.85, width=_LINE),
        Circle(-size.depth * 0.3, floor - 165, 70, fill=0.97, width=_LINE),
        Rect(front * 0.6, 50, size.depth * 0.4, 60, fill=0.5, width=_LINE),
    ]


def seat_from_left(size: Sizes) -> list[Shape]:
    """Seat, back, headrest, foot plate."""
    front, top = -size.depth, -size.back
    return [
        Rect(front, 0, size.depth + 10, 60, fill=_PAD, radius=12, width=_LINE),
        Poly(((0, 40), (20, top), (66, top), (50, 60)), fill=_PAD, width=_LINE),
        Line(44, top, 130, top - 10, 4.0, 0.2),
        Line(52, top + 20, 44, top - 250, 2.6, 0.3),
        Rect(8, top - 315, 34, 110, fill=_PAD, radius=10, width=_LINE),
        Line(front + 20, 30, front - 70, size.leg + 6, 3.0, 0.3),
        Line(front + 10, size.leg + 6, front - 270, size.leg + 6, 3.4, 0.2),
    ]


def armrest_from_left(size: Sizes) -> list[Shape]:
    """The armrest, nearer than the driver."""
    return [
        Rect(-size.depth * 0.8, -196, size.depth * 0.8, 26, fill=0.45, radius=8, width=_LINE),
        Line(-40, -170, -20, 20, 2.6, 0.3),
    ]


class _Joints(Struct, frozen=True):
    """Where the joints of the driver are, from the left."""

    hip: Point
    shoulder: Point
    knee: Point
    ankle: Point


def _joints(size: Sizes, sits: Sits) -> _Joints:
    knee = (-size.depth - 52 - sits.slid_mm * 0.8, -76.0 - sits.slid_mm * 0.1)
    hip, shoulder = (-112 - sits.slid_mm, -82.0), (-70.0, -size.back - 55)
    return _Joints(hip, shoulder, knee, (knee[0] - 26, size.leg - 62))


def driver_from_left(size: Sizes, sits: Sits = RIGHT) -> list[Shape]:
    """The driver: trunk, neck and head, arm on the armrest, leg with a shoe, and the belt."""
    at = _joints(size, sits)
    x, y = at.shoulder
    elbow, hand = (-52.0, -234.0), (-size.depth * 0.72, -228.0)
    body = [limb(at.hip, 100, (x - 8, y + 60), 96), limb((x - 8, y), 52, (x - 22, y - 130), 46)]
    legs = [limb(at.hip, 84, at.knee, 62), limb(at.knee, 58, at.ankle, 40)]
    arm = [limb(at.shoulder, 50, elbow, 40), limb(elbow, 38, hand, 26), limb(hand, 26, (hand[0] - 50, hand[1] + 4), 22)]
    head_there = moved(head_from_left(), 1, x - 32, y - 222)
    return [*joined([*body, *legs]), *_foot(at.ankle, sits), *head_there, *_belt(at.hip, sits), *joined(arm)]


def lap_from_left(size: Sizes, sits: Sits = RIGHT) -> list[Shape]:
    """Hips and belt close by: seat, back, trunk and thigh, without the arm that would hide them."""
    at = _joints(size, sits)
    up = 330.0 / (at.hip[1] - at.shoulder[1])
    chest = (at.hip[0] + (at.shoulder[0] - at.hip[0]) * up, at.hip[1] - 330)
    body = [
        limb(at.hip, 100, chest, 98),
        limb(at.hip, 84, at.knee, 62),
        limb(at.knee, 58, (at.knee[0] - 12, at.knee[1] + 190), 50),
    ]
    return [
        Rect(-size.depth, 0, size.depth + 10, 60, fill=_PAD, radius=12, width=_LINE),
        Poly(((0, 40), (18, -500), (64, -500), (50, 60)), fill=_PAD, width=_LINE),
        *joined(body),
        *_belt(at.hip, sits),
    ]


def foot_from_left(size: Sizes, sits: Sits = RIGHT) -> list[Shape]:
    """The lower leg with its shoe, and the foot plate."""
    at = _joints(size, sits)
    (x, y), foot = at.ankle, (at.ankle[0] - sits.feet_mm, at.ankle[1])
    return [
        Line(x + 110, y - 240, x + 62, y + 68, 3.0, 0.3),
        Line(x + 66, y + 68, x - 196, y + 68, 4.0, 0.2),
        *joined([limb((x + 18, y - 230), 58, foot, 40)]),
        *_foot(foot, sits),
    ]


def _foot(ankle: Point, sits: Sits) -> list[Shape]:
    """A shoe at the ankle, its toes hanging as `sits` says."""
    return moved(turned([Poly(shoe_from_left(), fill=0.5, width=_LINE)], -0.16 * sits.feet_mm), 1, *ankle)


def shoe_from_left() -> tuple[Point, ...]:
    """A shoe from the left round the ankle."""
    return ((42, -30), (44, 62), (-190, 62), (-196, 44), (-170, 26), (-90, 8), (-42, -34))


def head_from_left() -> list[Shape]:
    """A head from the left with hair, round its middle."""
    body = head(151, 195, with_lips=False)
    hair = tuple(
        (x * 98, y * 118)
        for x, y in ((-0.62, -0.74), (-0.3, -0.97), (0.0, -1.03), (0.45, -0.98), (0.8, -0.76), (1.0, -0.4), (1.03, 0.0))
    ) + ((78, 40), (40, 34), (36, -30), (-40, -58))
    ear = body.side_more[0]
    return [
        Poly(body.side, fill=_SKIN, width=_LINE),
        Poly(hair, fill=_HAIR, width=_LINE),
        Poly(tuple((x * 0.7 + 4, y * 0.7) for x, y in ear), fill=_SKIN, width=_LINE),
    ]


def _belt(hip: Point, sits: Sits) -> list[Shape]:
    """The belt from the seat over the fold of the hips, or over the belly."""
    low = (hip[0] + 84, 6.0 - sits.belt_mm)
    high = (hip[0] - 70, hip[1] - 62 - sits.belt_mm)
    return [Line(*low, *high, 3.4, 0.0)]


# ---- from behind ----------------------------------------------------------------------------------


def sites_from_behind(size: Sizes) -> dict[str, tuple[Point, ...]]:
    """Where a switch or lever stands that a helper behind the chair sees, in mm."""
    post, low = size.seat / 2 - 14, size.wide / 2 - 120
    return {
        "push_handle_left": ((-post, -size.back - 40),),
        "push_handle_right": ((post, -size.back - 40),),
        "back_left": ((-post, -size.back * 0.5),),
        "back_right": ((post, -size.back * 0.5),),
        "low_back_left": ((-low, 112),),
        "low_back_middle": ((0, 112),),
        "low_back_right": ((low, 112),),
        "behind_seat": ((-low, 250), (low, 250)),
    }


def from_behind(size: Sizes) -> list[Shape]:
    """Driver and chair from behind, the driver's left at the left."""
    floor = size.leg + 90
    return [
        *seat_from_behind(size),
        *(
            Rect(x, floor - 330, 76, 330, fill=0.6, radius=18, width=_LINE)
            for x in (-size.wide / 2, size.wide / 2 - 76)
        ),
        Rect(-size.wide / 2 + 84, 60, size.wide - 168, floor - 170, fill=0.9, radius=22, width=_LINE),
        *(
            Rect(x - 22, floor - 110, 44, 110, fill=0.6, radius=12, width=_LINE)
            for x in (-size.wide / 2 + 140, size.wide / 2 - 140)
        ),
    ]


def seat_from_behind(size: Sizes, sits: Sits = RIGHT) -> list[Shape]:
    """The same without base and wheels."""
    half, post, top = size.seat / 2, size.seat / 2 - 14, -size.back
    return [
        *turned(list(_driver_from_behind(size)), sits.leans_deg),
        *(Rect(x, -190, 66, 26, fill=0.45, radius=8, width=_LINE) for x in (-half - 76, half + 10)),
        Rect(-14, top - 240, 28, 260, fill=_FRAME, width=_LINE),
        Rect(-105, top - 315, 210, 95, fill=_PAD, radius=18, width=_LINE),
        Rect(-half, top, size.seat, size.back + 30, fill=_PAD, radius=26, width=_LINE),
        *(Rect(x - 12, top - 40, 24, size.back + 100, fill=_FRAME, radius=6, width=_LINE) for x in (-post, post)),
        *(Circle(x, top - 40, 24, fill=0.2, width=_LINE) for x in (-post, post)),
    ]


def _driver_from_behind(size: Sizes) -> Iterator[Shape]:
    shoulder, half = -size.back - 60, size.seat / 2
    trunk = [limb((0, -120), half * 0.8, (0, shoulder + 90), half * 0.82)]
    neck = [limb((0, shoulder), 58, (0, shoulder - 100), 52)]
    arms = [
        piece
        for side in (-1, 1)
        for piece in (
            limb((side * half * 0.86, shoulder + 50), 56, (side * (half + 42), -240), 42),
            limb((side * (half + 42), -240), 40, (side * (half + 44), -208), 30),
        )
    ]
    yield from joined([*trunk, *neck, *arms])
    yield oval(0, shoulder - 200, 76, 112, fill=_HAIR, width=_LINE)
    for side in (-1, 1):
        yield oval(side * 78, shoulder - 190, 12, 30, fill=_SKIN, width=_LINE)
