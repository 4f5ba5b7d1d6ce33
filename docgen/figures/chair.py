"""The chair with its driver from above, each switch on it with its letter beside it, and the sign of each kind."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from docgen.figures.panels import Box
from docgen.figures.rider import joined, limb
from docgen.figures.strokes import moved, oval, ringed
from docgen.scene import Circle, Line, Poly, Rect, Shape

Point = tuple[float, float]

# Where a switch or lever stands on the chair from above, from its middle, in points at scale 1.
ON_CHAIR: dict[str, tuple[Point, ...]] = {
    "push_handle_left": ((-37.5, 76),),
    "push_handle_right": ((37.5, 76),),
    "armrest_left": ((-48.5, -40),),
    "armrest_right": ((48.5, -40),),
    "tray_left": ((-34, -56),),
    "tray_right": ((34, -56),),
    "back_left": ((-34, 52),),
    "back_right": ((34, 52),),
    "head_left": ((-23, 6),),
    "head_right": ((23, 6),),
    "knee_left": ((-39, -50),),
    "knee_right": ((39, -50),),
    "low_back_left": ((-22, 58),),
    "low_back_middle": ((0, 58),),
    "low_back_right": ((22, 58),),
    "behind_seat": ((-47, 64), (47, 64)),
}
_SIGN, _RING = 8.0, 10.5  # half the size of a sign and of a letter in its ring, with the paper round it
_LEADER = 1.2
_FAR = 34.0  # from a sign to a letter that does not fit beside it

Site = tuple[str, str, str | None]  # letter, kind as `symbol` has it, place


def chair_from_above(x: float, y: float, scale: float = 1.0, tray: bool = False) -> list[Shape]:
    """The chair and its driver, front towards the top of the page; about 132 by 170 points at scale 1."""

    def box(left: float, top: float, w: float, h: float, fill: float, radius: float = 4.0) -> Rect:
        return Rect(left * scale, top * scale, w * scale, h * scale, fill=fill, radius=radius * scale)

    def part(first: Point, r1: float, last: Point, r2: float) -> tuple[Point, ...]:
        return tuple((px * scale, py * scale) for px, py in limb(first, r1, last, r2))

    legs = [part((side * 15, 20), 13, (side * 19, -50), 10) for side in (-1, 1)]
    arms = [
        outline
        for side in (-1, 1)
        for outline in (
            part((side * 34, 24), 9, (side * 48, 14), 7),
            part((side * 48, 14), 7, (side * 48, -16), 5),
            part((side * 48, -16), 6, (side * 48, -26), 4),
        )
    ]
    drawn: list[Shape] = [
        *(box(side, -28, 14, 84, 0.7) for side in (-66, 52)),  # drive wheels
        *(box(side, 62, 10, 22, 0.7) for side in (-60, 50)),  # small wheels
        box(-42, -40, 84, 92, 0.85),  # seat
        *(box(side, -86, 30, 40, 0.6) for side in (-34, 4)),  # foot plates
        *(oval(side * 19 * scale, -66 * scale, 9 * scale, 21 * scale, 0.5) for side in (-1, 1)),  # shoes
        *joined(legs),
        *(box(side, -46, 11, 86, 0.6) for side in (-54, 43)),  # armrests
        box(-44, 46, 88, 12, 0.75),  # back
        *(box(side, 58, 9, 24, 0.4) for side in (-42, 33)),  # push handles
        *joined([part((-26, 26), 15, (26, 26), 15), *arms]),
        box(-13, 37, 26, 7, 0.75, 3),  # headrest
        Poly(tuple((a * scale, b * scale) for a, b in ((-4, -3), (0, -10), (4, -3))), fill=0.94),  # nose
        *(oval(side * scale, 17 * scale, 3 * scale, 5 * scale) for side in (-16, 16)),  # ears
        oval(0, 16 * scale, 16 * scale, 20 * scale),  # head
        *([box(-50, -60, 100, 44, 1.0, 8)] if tray else []),
    ]
    return moved(drawn, 1, x, y)


def has_tray(sites: Sequence[Site]) -> bool:
    """Whether one of them is on a tray, so that there is one."""
    return any((place or "").startswith("tray_") for _, _, place in sites)


def symbol(kind: str, x: float, y: float) -> list[Shape]:
    """A shape of its own for each kind, black with a white edge.

    A disc for the stop, a ring for the driver's own, a square for the power, a frame for the seat, a bar for the levers
    that roll, a diamond for what locks the drive, a wedge for a plug.
    """
    match kind:
        case "stop":
            return [Circle(x, y, 7.2, fill=1.0, stroke=None), Circle(x, y, 5.8, fill=0.0)]
        case "own_stop":
            return [*symbol("stop", x, y), Circle(x, y, 3.0, fill=1.0, stroke=None)]
        case "seat":
            return [*symbol("power", x, y), Rect(x - 2.4, y - 2.4, 4.8, 4.8, fill=1.0, stroke=None)]
        case "lock":
            return [
                Poly(((x, y - 9), (x + 9, y), (x, y + 9), (x - 9, y)), fill=1.0, stroke=None),
                Poly(((x, y - 7), (x + 7, y), (x, y + 7), (x - 7, y)), fill=0.0),
            ]
        case "power":
            return [Rect(x - 6.6, y - 6.6, 13.2, 13.2, fill=1.0, stroke=None), Rect(x - 5, y - 5, 10, 10, fill=0.0)]
        case "plug":
            return [
                Poly(((x - 9, y - 7.5), (x + 9, y - 7.5), (x, y + 9)), fill=1.0, stroke=None),
                Poly(((x - 6, y - 5.5), (x + 6, y - 5.5), (x, y + 5.5)), fill=0.0),
            ]
    return [Rect(x - 4, y - 8, 8, 16, fill=1.0, stroke=None), Rect(x - 2.4, y - 6.4, 4.8, 12.8, fill=0.0)]


def switches(sites: Sequence[Site], places: Mapping[str, Sequence[Point]]) -> list[Shape]:
    """Each switch at its place with its letter beside it, outwards where that is free, else below, above, inwards or
    further out with a line; nothing for one that has no place in this view.

    places  name of a place -> where it is, in points, the middle of the chair at x = 0
    """
    spots: list[tuple[Point, str, str]] = []
    taken: list[Box] = []
    wanted = [(y, x, letter, kind) for letter, kind, place in sites for x, y in places.get(place or "", ())]
    for y, x, letter, kind in sorted(wanted, key=lambda spot: spot[0]):  # from the top: what is above stays above
        while any(_meet(_square(x, y, _SIGN), box) for box in taken):  # two at nearly one place
            y += 2
        spots.append(((x, y), letter, kind))
        taken.append(_square(x, y, _SIGN))
    lines: list[Shape] = []
    drawn: list[Shape] = []
    for (x, y), letter, kind in spots:
        own = _square(x, y, _SIGN)
        others = [box for box in taken if box != own]
        at_x, at_y = _free(x, y, others)
        taken.append(_square(at_x, at_y, _RING))
        if math.hypot(at_x - x, at_y - y) > _SIGN + _RING + 1:
            lines.append(Line(x, y, at_x, at_y, _LEADER))
        drawn += [*symbol(kind, x, y), *ringed(at_x, at_y, letter)]
    return [*lines, *drawn]


def _free(x: float, y: float, taken: Sequence[Box]) -> Point:
    """Where the letter of a switch at x, y stands: the first place at which it and its line touch nothing."""
    out, near = (1 if x >= 0 else -1), _SIGN + _RING
    ways = ((out, 0), (0, 1), (0, -1), (-out, 0), (out, 1), (out, -1), (-out, 1), (-out, -1))
    for far in (near, _FAR, 1.6 * _FAR, 2.4 * _FAR):
        for dx, dy in ways:
            at = (x + dx * far, y + dy * far)
            ring = _square(*at, _RING)
            if not any(_meet(ring, box) for box in taken) and not any(_crosses((x, y), at, box) for box in taken):
                return at
    return x + out * near, y


def _square(x: float, y: float, half: float) -> Box:
    return x - half, y - half, x + half, y + half


def _meet(box: Box, other: Box) -> bool:
    return box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]


def _crosses(start: Point, end: Point, box: Box) -> bool:
    """Whether the line from start to end runs through the box."""
    steps = range(1, 40)
    points = ((start[0] + (end[0] - start[0]) * i / 40, start[1] + (end[1] - start[1]) * i / 40) for i in steps)
    return any(box[0] < x < box[2] and box[1] < y < box[3] for x, y in points)
