"""A drawing as data: five shapes on a sheet, drawn the same by every output format.

Lengths are points (1/72 inch), x to the right, y downwards from the top left corner.
Shades run from 0.0 (black) to 1.0 (white); a drawing must read in black and white.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace


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


class Picture(Struct, frozen=True):
    """A photo, top left corner at x, y: a JPEG that holds pixels alone."""

    x: float
    y: float
    w: float
    h: float
    jpeg: bytes

    def __repr__(self) -> str:
        return f"Picture({self.w:g} x {self.h:g})"  # what it shows is in no message


Shape = Line | Rect | Circle | Poly | Text | Picture


class Scene(Struct, frozen=True):
    """A finished drawing: size in points, the words that say what it shows, its shapes in painting order.

    panels     the pieces it is made of, for a page that sets them in rows of its own; the shapes are then those of all
               panels as they stand on a page of the usual width
    true_size  it is drawn at life size, and a page must not enlarge or shrink it
    leads      as a panel it begins a group, which stands in one row where it fits one
    """

    w: float
    h: float
    alt: str
    shapes: tuple[Shape, ...]
    panels: tuple[Scene, ...] = ()
    true_size: bool = False
    leads: bool = False


_DESCENT = 0.212  # of a letter below its baseline, as a share of its size: of Arial
LETTERS_PT = 12.0  # size of the letters of a panel; a page in larger print enlarges the panel by as much
PANELS_APART_PT = 6.0  # between panels that stand side by side, and between rows


def down_to_letters(scene: Scene) -> Scene:
    """The scene, higher where letters hang below its edge, for a picture that ends at its edge."""
    lowest = max((shape.y + _DESCENT * shape.size for shape in scene.shapes if isinstance(shape, Text)), default=0.0)
    return replace(scene, h=lowest) if lowest > scene.h else scene


class Placed(Struct, frozen=True):
    """A panel in its row: its left edge in points and the share of its size that it is drawn in."""

    panel: Scene
    x: float
    scale: float

    @property
    def height(self) -> float:
        return self.panel.h * self.scale


def groups_of(panels: Sequence[Scene]) -> list[list[Scene]]:
    """The panels in groups: each begins with the first or with one that leads."""
    groups: list[list[Scene]] = []
    for panel in panels:
        if panel.leads or not groups:
            groups.append([])
        groups[-1].append(panel)
    return groups


def rows_of(panels: Sequence[Scene], room: float, scale: float = 1.0) -> list[list[Placed]]:
    """The panels in rows of at most `room` points, in order; a group begins a row where it does not fit the one before.

    scale  what a panel is enlarged by; one of true size is not, and one wider than the room is drawn smaller
    """
    rows: list[list[Placed]] = [[]]
    x = 0.0
    for group in groups_of(panels):
        scales = [min(1.0 if panel.true_size else scale, room / panel.w) for panel in group]
        wide = sum(panel.w * own + PANELS_APART_PT for panel, own in zip(group, scales, strict=True)) - PANELS_APART_PT
        begins = x + wide > room + 0.01
        for panel, own in zip(group, scales, strict=True):
            if rows[-1] and (begins or x + panel.w * own > room + 0.01):
                rows.append([])
                x = 0.0
            rows[-1].append(Placed(panel, x, own))
            x += panel.w * own + PANELS_APART_PT
            begins = False
    return rows
