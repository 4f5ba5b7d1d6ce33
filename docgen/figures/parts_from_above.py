"""The parts of a control round one part of the body, seen from above."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from docgen.figures.outlines import FINGERS, NECK_BACK, Body, Outline, reach
from docgen.figures.panels import bounds
from docgen.figures.part_shapes import (
    PAD_MM,
    PLATE_MM,
    SCALE,
    as_part_sees,
    block,
    dashed_block,
    gap_span,
    leaning,
    numbered,
    outlined,
    pad_and_plate,
    thickness,
    tube,
    turn_of,
)
from docgen.figures.placing import Drawn, fingers_of
from docgen.figures.strokes import ringed
from docgen.scene import LETTERS_PT, Circle, Poly, Shape, Text


def from_above(body: Body, parts: Sequence[Drawn], with_word: bool, words: Mapping[str, str]) -> list[Shape]:
    """Front towards the top of the page; left on the page is the driver's left."""
    shapes: list[Shape] = [*map(outlined, body.under), outlined(body.above), *map(outlined, body.above_more)]
    for part in parts:
        match part.side:
            case "left" | "right":
                shapes += _beside(body, part)
            case "back" if part.mount.site == "skull_base":
                shapes += _under_skull(body, part)
            case "front" | "back":
                shapes += _before(body, part)
            case _:
                shapes += _level(part)
    shapes = _numbers_last(shapes)
    if any(shape.dash for shape in shapes if isinstance(shape, Poly)):
        shapes += _key_of_dashes(shapes, any(part.side == "above" for part in parts), words)
    if with_word and body.above_more:
        shapes.append(
            Text(0, min(y for _, y in body.above_more[0]) * SCALE + 18, words["lips"], LETTERS_PT, anchor="middle")
        )
    return shapes


def _numbers_last(shapes: Sequence[Shape]) -> list[Shape]:
    """The shapes with the number of each part over all parts."""
    rings = {
        at for at, shape in enumerate(shapes[:-1]) if isinstance(shape, Circle) and isinstance(shapes[at + 1], Text)
    }
    numbers = {*rings, *(at + 1 for at in rings)}
    parts = [shape for at, shape in enumerate(shapes) if at not in numbers]
    return [*parts, *(shape for at, shape in enumerate(shapes) if at in numbers)]


def _beside(body: Body, part: Drawn) -> list[Shape]:
    """A part at the left or the right, its gap from the outermost point of the body along it."""
    sign = -1 if part.side == "left" else 1
    low, high = part.along - part.long / 2, part.along + part.long / 2
    pivot = (reach(body.above, part.side, low, high)[0], part.along, turn_of(part, "yaw"))
    edge, at = reach(as_part_sees(body.above, *pivot), part.side, low, high)
    inner = edge + sign * (part.mount.gap_mm or 0)
    drawn = [
        *pad_and_plate(part, inner, part.along, sign, 0),
        *gap_span(edge, at, inner, at),
        *numbered(part, inner + sign * (thickness(part) + PLATE_MM), part.along, sign, 0, 0),
    ]
    return leaning(drawn, *pivot)


def _before(body: Body, part: Drawn) -> list[Shape]:
    """A part in front or behind; lips and fingers have an outline of their own."""
    sign = -1 if part.side == "front" else 1
    lips = part.mount.site in ("mouth", "chin")
    outline = body.above_more[0] if lips else _finger_outline(body, part) or body.above
    half = 0.0 if part.stands else part.wide / 2  # a round stick is nearest at its middle
    low, high = part.across - half, part.across + half
    pivot = (part.across, reach(outline, part.side, low, high)[0], turn_of(part, "yaw"))
    edge, at = reach(as_part_sees(outline, *pivot), part.side, low, high)
    inner = edge + sign * (part.mount.gap_mm or 0)
    gap = gap_span(at, edge, at, inner)
    if part.mount.site == "mouth":
        return leaning([*_mouthpiece(part, inner), *gap], *pivot)
    if not part.stands:
        outside = inner + sign * (thickness(part) + PLATE_MM)
        pad = pad_and_plate(part, part.across, inner, 0, sign)
        return leaning([*pad, *gap, *numbered(part, part.across, outside, 0, sign, 0)], *pivot)
    outside = inner + sign * (part.wide / 2 if part.wide * SCALE >= 21 else part.wide)
    stick = block(part.across - part.wide / 2, min(inner, inner + sign * part.wide), part.wide, part.wide, True)
    return leaning([stick, *gap, *numbered(part, part.across, outside, 0, sign, part.wide)], *pivot)


def _mouthpiece(part: Drawn, inner: float) -> list[Shape]:
    """The mouthpiece before the lips and its tube, which comes from the side that it swings to."""
    way = {"left": -1, "right": 1}.get(part.mount.swings or "", 0)
    outer = inner - max(part.wide, PAD_MM)
    box = block(part.across - part.wide / 2, outer, part.wide, inner - outer)
    bend = ((0.0, -14.0), (way * 26.0, -26.0), (way * 62.0, -26.0)) if way else ((0.0, -40.0),)
    number = ringed(
        (part.across - (way or -1) * part.wide / 2) * SCALE - (way or -1) * 12,
        (inner + outer) / 2 * SCALE - 6,
        str(part.number),
    )
    return [*tube(part.across, outer, bend), box, *number]


def _level(part: Drawn) -> list[Shape]:
    """A part under the body or over it: its outline dashed, at each finger it is for."""
    spots = [FINGERS[finger] for finger in fingers_of(part.mount)]
    spots = spots or [(abs(part.across), part.along - part.long / 2)]
    turn = 1 if part.across >= 0 else -1
    front = min(tip for _, tip in spots)
    return [
        *(dashed_block(turn * x - part.wide / 2, tip, part.wide, part.long) for x, tip in spots),
        *ringed(part.across * SCALE, (front * SCALE) - 14, str(part.number)),
    ]


def _under_skull(body: Body, part: Drawn) -> list[Shape]:
    """A part at the nape, under the skull from above: its outline dashed, a gap behind what is drawn of the neck."""
    front = NECK_BACK * max(y for _, y in body.above) + (part.mount.gap_mm or 0)
    back = front + thickness(part)
    number = ringed((part.wide / 2 - 8) * SCALE, back * SCALE + 14, str(part.number))
    return [dashed_block(-part.wide / 2, front, part.wide, back - front), *number]


def _key_of_dashes(drawn: Sequence[Shape], is_above: bool, words: Mapping[str, str]) -> list[Shape]:
    """What a dashed outline means, below all that is drawn."""
    low = bounds(drawn)[3] + 12
    return [
        Poly(((-60, low - 8), (-46, low - 8), (-46, low), (-60, low)), width=1.4, dash=(3.0, 2.0)),
        Text(-40, low, words["dashed_above" if is_above else "dashed_below"], LETTERS_PT),
    ]


def _finger_outline(body: Body, part: Drawn) -> Outline | None:
    """The outline of the fingers in front of which a part stands."""
    if part.mount.site != "hand" or part.mount.near == "palm":
        return None
    return tuple(point for finger in body.under for point in finger)
