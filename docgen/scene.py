"""A drawing as data: five shapes on a sheet, drawn the same by every output format.

Lengths are points (1/72 inch), x to the right, y downwards from the top left corner.
Shades run from 0.0 (black) to 1.0 (white); a drawing must read in black and white.
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct


class Line(Struct, frozen=True):
    """A straight line; `dash` is (on, off) in points, empty for a solid line."""

    x1: float
    y1: float
    x2: float
    y2: float
    width: float = 0.8
    shade: float = 0.0
    dash: tuple[float, ...] = ()


class Rect(Struct, frozen=True):
    """A rectangle, top left corner at x, y; a shade of None leaves that part undrawn."""

    x: float
    y: float
    w: float
    h: float
    fill: float | None = None
    stroke: float | None = 0.0
    width: float = 0.8
    radius: float = 0.0


class Circle(Struct, frozen=True):
    """A circle round x, y; a shade of None leaves that part undrawn."""

    x: float
    y: float
    r: float
    fill: float | None = None
    stroke: float | None = 0.0
    width: float = 0.8


class Poly(Struct, frozen=True):
    """Straight lines through the points, closed or open."""

    points: tuple[tuple[float, float], ...]
    closed: bool = True
    fill: float | None = None
    stroke: float | None = 0.0
    width: float = 0.8
    dash: tuple[float, ...] = ()


class Text(Struct, frozen=True):
    """One line of text; `y` is the baseline, `anchor` the point of the text that stands at `x`."""

    x: float
    y: float
    text: str
    size: float = 9.0
    bold: bool = False
    anchor: Literal["start", "middle", "end"] = "start"
    shade: float = 0.0


Shape = Line | Rect | Circle | Poly | Text


class Scene(Struct, frozen=True):
    """A finished drawing: size in points, the words that say what it shows, its shapes in painting order."""

    w: float
    h: float
    alt: str
    shapes: tuple[Shape, ...]
