"""The chair with its driver from above, and each switch on it with its letter beside the chair."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.figures.strokes import oval, ringed
from docgen.scene import Circle, Line, Poly, Rect, Shape

# Where a switch or lever stands on the drawing, from its middle, in points at scale 1.
ON_CHAIR: dict[str, tuple[tuple[float, float], ...]] = {
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
_EDGE = 66.0  # half the width of the chair at scale 1
_APART, _BESIDE = 20.0, 20.0  # letters from each other and from the chair, in points at any scale

Site = tuple[str, str, str | None]  # letter, kind ("stop", "power", "lever" or "plug"), place


def chair_from_above(x: float, y: float, scale: float = 1.0, tray: bool = False) -> list[Shape]:
    """The chair, front towards the top of the page; about 132 by 170 points at scale 1."""

    def box(left: float, top: float, w: float, h: float, fill: float, radius: float = 4.0) -> Rect:
        return Rect(x + left * scale, y + top * scale, w * scale, h * scale, fill=fill, radius=radius * scale)

    return [
        *(box(side, -28, 14, 84, 0.85) for side in (-66, 52)),  # drive wheels
        *(box(side, 62, 10, 22, 0.85) for side in (-60, 50)),  # small wheels
        box(-42, -40, 84, 92, 0.97),  # seat
        *(box(side, -46, 11, 86, 0.9) for side in (-54, 43)),  # armrests
        *(box(side, -86, 30, 40, 0.9) for side in (-34, 4)),  # footplates
        box(-44, 46, 88, 12, 0.75),  # back
        *(box(side, 58, 9, 24, 0.75) for side in (-42, 33)),  # push handles
        oval(x, y + 24 * scale, 40 * scale, 17 * scale, fill=1.0),  # shoulders
        Poly(
            ((x - 4 * scale, y - 3 * scale), (x, y - 10 * scale), (x + 4 * scale, y - 3 * scale)), fill=0.94, width=0.8
        ),  # nose
        *(oval(x + side * scale, y + 17 * scale, 3 * scale, 5 * scale) for side in (-16, 16)),  # ears
        oval(x, y + 16 * scale, 16 * scale, 20 * scale),  # head
        *([box(-50, -60, 100, 44, 1.0, 8)] if tray else []),
    ]


def has_tray(sites: Sequence[Site]) -> bool:
    """Whether one of them is on a tray, so that there is one."""
    return any((place or "").startswith("tray_") for _, _, place in sites)


def symbol(kind: str, x: float, y: float) -> list[Shape]:
    """A round button to stop, a square switch for the power, a bar for a lever, a wedge for a plug, black with a white
    edge."""
    match kind:
        case "stop":
            return [Circle(x, y, 6, fill=1.0, stroke=None), Circle(x, y, 4.8, fill=0.0)]
        case "power":
            return [Rect(x - 6, y - 6, 12, 12, fill=1.0, stroke=None), Rect(x - 4.5, y - 4.5, 9, 9, fill=0.0)]
        case "plug":
            return [
                Poly(((x - 8, y - 6.5), (x + 8, y - 6.5), (x, y + 8)), fill=1.0, stroke=None),
                Poly(((x - 5.5, y - 5), (x + 5.5, y - 5), (x, y + 5)), fill=0.0),
            ]
    return [Rect(x - 3.5, y - 7, 7, 14, fill=1.0, stroke=None), Rect(x - 2, y - 5.5, 4, 11, fill=0.0)]


def switches(x: float, y: float, scale: float, sites: Sequence[Site]) -> list[Shape]:
    """Each switch at its place and, beside the chair, its letter with a line to it; nothing for one without a place."""
    places = [(dy, dx, letter, kind) for letter, kind, place in sites for dx, dy in ON_CHAIR.get(place or "", ())]
    lines: list[Shape] = []
    drawn: list[Shape] = []
    for sign in (-1, 1):
        lowest = -1e9
        for dy, dx, letter, kind in sorted(place for place in places if (place[1] > 0) == (sign > 0)):
            at_x, at_y = x + sign * (_EDGE * scale + _BESIDE), max(y + dy * scale, lowest + _APART)
            lowest = at_y
            lines.append(Line(x + dx * scale, y + dy * scale, at_x, at_y, 1.2))
            drawn += [*symbol(kind, x + dx * scale, y + dy * scale), *ringed(at_x, at_y, letter)]
    return [*lines, *drawn]
