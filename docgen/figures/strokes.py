"""Pieces that several drawings share: ovals, arrows, letters in a ring, a gap with its ends, words on more lines."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from msgspec.structs import replace

from docgen.figures.lettering import wrapped
from docgen.scene import LETTERS_PT, Circle, Line, Poly, Rect, Shape, Text

Anchor = Literal["start", "middle", "end"]


def oval(x: float, y: float, rx: float, ry: float, fill: float | None = 0.94, width: float = 1.0) -> Poly:
    """An oval round x, y."""
    steps = [math.tau * i / 48 for i in range(48)]
    return Poly(
        tuple((round(x + rx * math.cos(t), 2), round(y + ry * math.sin(t), 2)) for t in steps), fill=fill, width=width
    )


def arrow(points: Sequence[tuple[float, float]], width: float = 2.2, head: float = 9.0) -> list[Shape]:
    """A line through the points with a filled head at its last."""
    (x1, y1), (x2, y2) = points[-2:]
    length = math.hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    base = (x2 - ux * head, y2 - uy * head)
    tip = Poly(
        (
            (x2, y2),
            (base[0] - uy * head / 2, base[1] + ux * head / 2),
            (base[0] + uy * head / 2, base[1] - ux * head / 2),
        ),
        fill=0.0,
        stroke=None,
    )
    return [Poly((*points[:-1], base), closed=False, width=width), tip]


def ringed(x: float, y: float, letter: str) -> list[Shape]:
    """A letter or number in a white ring with its middle at x, y."""
    return [Circle(x, y, 9.5, fill=1.0, stroke=0.0, width=1.4), Text(x, y + 4.3, letter, LETTERS_PT, True, "middle")]


def right(x: float, y: float) -> list[Shape]:
    """The sign of what is right, a tick in a circle, round x, y."""
    tick = Poly(((x - 4.5, y + 0.5), (x - 1.2, y + 4.2), (x + 5, y - 4.5)), closed=False, width=2.4)
    return [Circle(x, y, 9.5, fill=1.0, width=1.6), tick]


def wrong(x: float, y: float) -> list[Shape]:
    """The sign of what is wrong, a white cross on a black square, round x, y."""
    return [
        Rect(x - 9, y - 9, 18, 18, fill=0.0),
        Line(x - 4.5, y - 4.5, x + 4.5, y + 4.5, 2.8, 1.0),
        Line(x - 4.5, y + 4.5, x + 4.5, y - 4.5, 2.8, 1.0),
    ]


def span(x1: float, y1: float, x2: float, y2: float) -> list[Shape]:
    """The gap itself: a heavy line with a tick at each end."""
    dx, dy = (0.0, 4.0) if y1 == y2 else (4.0, 0.0)
    return [
        Line(x1, y1, x2, y2, 1.4),
        Line(x1 - dx, y1 - dy, x1 + dx, y1 + dy, 0.9),
        Line(x2 - dx, y2 - dy, x2 + dx, y2 + dy, 0.9),
    ]


def paragraph(
    x: float,
    y: float,
    text: str,
    most: int,
    n_lines: int,
    size: float = 10.5,
    bold: bool = False,
    anchor: Anchor = "start",
) -> list[Shape]:
    """The text from the baseline y down, in at most n_lines of `most` characters; what does not fit is cut with an
    ellipsis."""
    lines = wrapped(text, most)
    if len(lines) > n_lines:
        lines = [*lines[: n_lines - 1], f"{lines[n_lines - 1][: most - 1].rstrip()}\u2026"]
    return [Text(x, y + 1.2 * size * at, line, size, bold, anchor) for at, line in enumerate(lines)]


def turned(shapes: Sequence[Shape], degrees: float) -> list[Shape]:
    """The shapes turned clockwise round 0, 0; a word and its ring keep upright."""
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def to(x: float, y: float) -> tuple[float, float]:
        return x * cos - y * sin, x * sin + y * cos

    def turn(shape: Shape) -> Shape:
        match shape:
            case Line(x1, y1, x2, y2):
                (ax, ay), (bx, by) = to(x1, y1), to(x2, y2)
                return replace(shape, x1=ax, y1=ay, x2=bx, y2=by)
            case Rect(x, y, w, h):
                corners = ((x, y), (x + w, y), (x + w, y + h), (x, y + h))
                return Poly(
                    tuple(to(*corner) for corner in corners), fill=shape.fill, stroke=shape.stroke, width=shape.width
                )
            case Poly(points):
                return replace(shape, points=tuple(to(*point) for point in points))
            case Text(x, y, _, size):
                half = 0.35 * size  # from the baseline to the middle of a letter
                at, middle = to(x, y - half)
                return replace(shape, x=at, y=middle + half)
        x, y = to(shape.x, shape.y)
        return replace(shape, x=x, y=y)

    return [turn(shape) for shape in shapes]


def moved(shapes: Sequence[Shape], sign: int, dx: float = 0.0, dy: float = 0.0) -> list[Shape]:
    """The shapes moved by dx, dy; as a mirror image first when sign is -1, the words still readable."""

    def move(shape: Shape) -> Shape:
        match shape:
            case Line():
                return replace(
                    shape, x1=sign * shape.x1 + dx, y1=shape.y1 + dy, x2=sign * shape.x2 + dx, y2=shape.y2 + dy
                )
            case Rect():
                return replace(shape, x=(shape.x if sign > 0 else -shape.x - shape.w) + dx, y=shape.y + dy)
            case Poly():
                return replace(shape, points=tuple((sign * x + dx, y + dy) for x, y in shape.points))
            case Text() if sign < 0:
                turned: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}
                return replace(shape, x=dx - shape.x, y=shape.y + dy, anchor=turned[shape.anchor])
        return replace(shape, x=sign * shape.x + dx, y=shape.y + dy)

    return [move(shape) for shape in shapes]
