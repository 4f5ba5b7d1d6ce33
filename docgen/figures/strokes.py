"""Pieces that several drawings share: ovals, arrows, letters in a ring, a gap with its ends, words on more lines."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from docgen.figures.scene import Circle, Line, Poly, Rect, Shape, Text

Anchor = Literal["start", "middle", "end"]


def oval(x: float, y: float, rx: float, ry: float, fill: float | None = 0.94, width: float = 1.0) -> Poly:
    """An oval round x, y."""
    steps = [math.tau * i / 48 for i in range(48)]
    return Poly(tuple((round(x + rx * math.cos(t), 2), round(y + ry * math.sin(t), 2)) for t in steps), fill=fill, width=width)


def arrow(points: Sequence[tuple[float, float]], width: float = 2.2, head: float = 9.0) -> list[Shape]:
    """A line through the points with a filled head at its last."""
    (x1, y1), (x2, y2) = points[-2:]
    length = math.hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    base = (x2 - ux * head, y2 - uy * head)
    tip = Poly(((x2, y2), (base[0] - uy * head / 2, base[1] + ux * head / 2), (base[0] + uy * head / 2, base[1] - ux * head / 2)),
               fill=0.0, stroke=None)
    return [Poly((*points[:-1], base), closed=False, width=width), tip]


def ringed(x: float, y: float, letter: str) -> list[Shape]:
    """A letter or number in a white ring with its middle at x, y."""
    return [Circle(x, y, 8.5, fill=1.0, stroke=0.0, width=1.4), Text(x, y + 3.7, letter, 10.5, True, "middle")]


def span(x1: float, y1: float, x2: float, y2: float) -> list[Shape]:
    """The gap itself: a heavy line with a tick at each end."""
    dx, dy = (0.0, 4.0) if y1 == y2 else (4.0, 0.0)
    return [
        Line(x1, y1, x2, y2, 1.4),
        Line(x1 - dx, y1 - dy, x1 + dx, y1 + dy, 0.9),
        Line(x2 - dx, y2 - dy, x2 + dx, y2 + dy, 0.9),
    ]


def paragraph(x: float, y: float, text: str, most: int, n_lines: int, size: float = 10.5, bold: bool = False,
              anchor: Anchor = "start") -> list[Shape]:
    """The text from the baseline y down, in at most n_lines of `most` characters; what does not fit is cut with an ellipsis."""
    lines: list[str] = []
    for word in text.split():
        if lines and len(lines[-1]) + 1 + len(word) <= most:
            lines[-1] += f" {word}"
        else:
            lines += [word[at:at + most] for at in range(0, len(word), most)]
    if len(lines) > n_lines:
        lines = [*lines[: n_lines - 1], f"{lines[n_lines - 1][: most - 1].rstrip()}\u2026"]
    return [Text(x, y + 1.2 * size * at, line, size, bold, anchor) for at, line in enumerate(lines)]


def chair_from_above(x: float, y: float, scale: float = 1.0) -> list[Shape]:
    """The chair with its driver from above, front towards the top of the page; about 150 by 190 points at scale 1."""

    def box(left: float, top: float, w: float, h: float, fill: float, radius: float = 4.0) -> Rect:
        return Rect(x + left * scale, y + top * scale, w * scale, h * scale, fill=fill, radius=radius * scale)

    return [
        *(box(side, -28, 14, 84, 0.8) for side in (-66, 52)),  # drive wheels
        *(box(side, 62, 10, 22, 0.8) for side in (-56, 46)),  # small wheels
        box(-42, -40, 84, 92, 0.97),  # seat
        *(box(side, -46, 11, 86, 0.9) for side in (-54, 43)),  # armrests
        *(box(side, -86, 30, 40, 0.9) for side in (-34, 4)),  # foot plates
        box(-44, 46, 88, 12, 0.7),  # back
        *(box(side, 58, 9, 24, 0.55) for side in (-42, 33)),  # push handles
        oval(x, y + 20 * scale, 42 * scale, 20 * scale, fill=1.0),  # shoulders
        oval(x, y + 16 * scale, 17 * scale, 21 * scale, fill=0.94),  # head
        Poly(((x - 4 * scale, y - 3 * scale), (x, y - 9 * scale), (x + 4 * scale, y - 3 * scale)), fill=0.94, width=0.8),
    ]


# Where a switch or lever stands on that drawing, from its middle, in points at scale 1.
ON_CHAIR: dict[str, tuple[tuple[float, float], ...]] = {
    "push_handle_left": ((-38, 80),), "push_handle_right": ((38, 80),), "armrest_left": ((-49, -44),), "armrest_right": ((49, -44),),
    "tray_left": ((-26, -54),), "tray_right": ((26, -54),), "back_left": ((-40, 60),), "back_right": ((40, 60),),
    "head_left": ((-28, 12),), "head_right": ((28, 12),), "knee_left": ((-30, -50),), "knee_right": ((30, -50),),
    "behind_seat": ((-66, 62), (66, 62)),
}
