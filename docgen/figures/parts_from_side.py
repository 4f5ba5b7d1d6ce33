"""The parts of a control round one part of the body, seen from the left or the right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from docgen.figures.outlines import KNEE_SIDE, SOLE_Y, Body, reach
from docgen.figures.panels import bounds
from docgen.figures.part_shapes import (
    PAD_MM,
    PLATE_MM,
    SCALE,
    as_part_sees,
    block,
    gap_span,
    has_room,
    leaning,
    numbered,
    outlined,
    thickness,
    tube,
    turn_of,
)
from docgen.figures.placing import Drawn, fingers_of
from docgen.figures.strokes import moved, ringed, turned
from docgen.scene import LETTERS_PT, Circle, Line, Rect, Shape, Text

_LIPS_MM = 12.0  # half the height of both lips
_MOST_TILT_DEG = 30.0  # the steepest footplate drawn


def from_side(body: Body, parts: Sequence[Drawn], seen: str, words: Mapping[str, str]) -> list[Shape]:
    """Seen from the side `seen`; drawn as from the left and turned round for the right. A part on the far side is not
    seen."""
    shapes: list[Shape] = [outlined(body.side), *(outlined(line, None, 0.8) for line in body.side_more)]
    later: list[Shape] = []  # over all the others
    nearest = max((part.along + part.long / 2 for part in parts if part.side == seen), default=None)
    for part in parts:
        if part.side in ("front", "back"):
            below = any(other.mount.site == "skull_base" for other in parts if other is not part)
            drawn, marks = _before(body, part, nearest, below)
        elif part.side in ("above", "below"):
            drawn, marks = _level(body, part, words)
        elif part.side == seen:
            drawn, marks = _beside(part)
        else:
            continue
        shapes += drawn
        later += marks
    whole = [*shapes, *later]
    if on_plate := [part.mount.angle_deg or 0.0 for part in parts if part.mount.held_by == "footplate"]:
        y = SOLE_Y * SCALE + 2
        whole = turned(
            [*shapes, Line(-186 * SCALE, y, 166 * SCALE, y, 2.4), *later],
            max(-_MOST_TILT_DEG, min(max(on_plate), _MOST_TILT_DEG)),
        )  # toes up, with all that is on it
        whole.append(Text(0, bounds(whole)[3] + 10, words["footplate"], LETTERS_PT, anchor="middle"))
    return moved(whole, -1 if seen == "right" else 1)


_Layers = tuple[list[Shape], list[Shape]]
"""What is drawn of a part, and what stands over all that is drawn: its number, words."""


def _before(body: Body, part: Drawn, nearest: float | None, is_over_another: bool) -> _Layers:
    """A part in front or behind.

    nearest          how far back the parts at the side reach that are seen before it; None without one
    is_over_another  a part at the nape is below it
    """
    sign = -1 if part.side == "front" else 1
    half = max(part.high / 2, _LIPS_MM) if part.mount.site == "mouth" else part.high / 2
    side, low, high = "left" if sign < 0 else "right", part.up - half, part.up + half
    pivot = (reach(body.side, side, low, high)[0], part.up, turn_of(part, "pitch"))
    edge, at = reach(as_part_sees(body.side, *pivot), side, low, high)
    inner = edge + sign * (part.mount.gap_mm or 0)
    thick = part.wide if part.stands else max(part.wide, PAD_MM) if part.mount.site == "mouth" else thickness(part)
    shapes = _shapes_before(part, inner, thick, sign)
    if part.mount.site == "mouth":
        number = ringed((inner - thick) * SCALE - 4, (part.up - part.high / 2) * SCALE - 14, str(part.number))
        return leaning([*shapes, *gap_span(edge, at, inner, at)], *pivot), leaning(number, *pivot)
    hidden = sign > 0 and nearest is not None and nearest > inner  # by a part at the side
    if hidden and not is_over_another:  # its number stands below
        number = numbered(part, inner + thick / 2, part.up + part.high / 2, 0, 1, 0)
    else:
        share = 0.5 if min(thick, part.high) * SCALE >= 21 else 1
        outside = thick * share if share < 1 and not hidden else thick + (0 if part.stands else PLATE_MM)
        number = numbered(part, inner + sign * outside, part.up, sign, 0, 0 if hidden else min(thick, part.high))
    return leaning([*shapes, *gap_span(edge, at, inner, at)], *pivot), leaning(number, *pivot)


def _shapes_before(part: Drawn, inner: float, thick: float, sign: int) -> list[Shape]:
    """The part itself with what holds it: a tube at the mouth, a boot round the foot of a stick, else a plate.

    inner, thick  the edge towards the body and how far the part goes from it, in mm; `sign` is -1 in front, 1 behind
    """
    shape = block(min(inner, inner + sign * thick), part.up - part.high / 2, thick, part.high)
    if part.mount.site == "mouth":
        return [*tube(inner - thick, part.up, ((-14.0, 2.0), (-26.0, 14.0), (-26.0, 58.0))), shape]
    if part.stands:
        low, high = part.up + part.high * 0.08, part.up + part.high * 0.3
        return [shape, *(outlined(((inner, y), (inner + sign * thick, y)), None, 0.8) for y in (low, high))]
    start = inner + sign * thick + (0 if sign > 0 else -PLATE_MM)
    plate = block(start, part.up - part.high * 0.3, PLATE_MM, part.high * 0.6)
    return [replace(plate, fill=0.3) if isinstance(plate, Rect) else plate, shape]


def _level(body: Body, part: Drawn, words: Mapping[str, str]) -> _Layers:
    """A part under the body or over it, with the tray that holds it."""
    sign = -1 if part.side == "above" else 1
    length, fingers = part.long, fingers_of(part.mount)
    front = min(x for x, _ in body.side)
    at_x = front + 6 + length / 2 if fingers else part.along
    edge, at = reach(body.side, part.side, at_x - length / 2, at_x + length / 2)
    inner = edge + sign * (part.mount.gap_mm or 0)
    drawn = [
        block(at_x - length / 2, min(inner, inner + sign * PAD_MM), length, PAD_MM),
        *gap_span(at, edge, at, inner),
    ]
    left = min(at_x - length / 2, front) if fingers else at_x - length / 2
    marks = ringed(left * SCALE - 12, (inner + sign * PAD_MM / 2) * SCALE, str(part.number))
    if part.mount.held_by == "tray":
        y = (inner + sign * PAD_MM) * SCALE + 1
        drawn.append(Line(-74, y, 66, y, 2.4))
        marks.append(Text(64, y + 14, words["tray"], LETTERS_PT, anchor="end"))
    return drawn, marks


def _beside(part: Drawn) -> _Layers:
    """A part at the side that is looked at: what is behind it can be seen, but for a round one."""
    x, y = part.along if part.mount.site != "knee" else KNEE_SIDE[0], part.up
    box = block(x - part.long / 2, y - part.high / 2, part.long, part.high, part.round)
    drawn: list[Shape] = [replace(box, fill=None, width=1.6) if isinstance(box, Rect) else box]
    if isinstance(box, Circle) and box.r > 14:
        drawn.append(Circle(box.x, box.y, box.r - 3.5, width=0.8))  # the edge of its cap
    room = min(part.long, part.high)
    if has_room(room):
        return drawn, numbered(part, x, y, 0, 0, room)
    way = 1 if part.mount.site in ("cheek", "knee") else -1  # so its number hides neither the part nor an eye
    return drawn, numbered(part, x, y + way * part.high / 2, 0, way, room)
