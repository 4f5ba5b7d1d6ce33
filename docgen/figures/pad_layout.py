"""Where each part stands, by the part of the body it is for: from above and from the side, gaps and sizes to one scale.

A part is drawn where the mounting record says that it is, see `placing`; one whose place is not known is not drawn, and
the drawing names it and says so. Each part has a number, the same in both views and in the list below.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.evidence.fact import Evidence
from docgen.figures.gap_gauge import in_both, in_mm
from docgen.figures.lettering import two_lines
from docgen.figures.outlines import (
    FINGERS,
    FOOT,
    HAND,
    HEAD_MM,
    KNEE,
    KNEE_SIDE,
    MOST_HEAD_MM,
    SOLE_Y,
    Body,
    Outline,
    head,
    mirrored,
    reach,
)
from docgen.figures.placing import PLACES, Drawn, fingers_of, lacking, placed
from docgen.figures.strokes import arrow, moved, ringed, span, turned
from docgen.scene import Circle, Line, Poly, Rect, Scene, Shape, Text

MADE_FROM = ("configuration.mounting", "client.head.width_mm")

_SCALE = 0.56  # points per mm
_WIDTH, _ABOVE_X, _SIDE_X = 482.0, 120.0, 352.0
_PAD_MM = 12.0  # how thick a part is drawn
_LIPS_MM = 12.0  # half the height of both lips
_MOST_TILT_DEG = 30.0  # the steepest footplate drawn
_GREY = 0.7


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """A band for each part of the body with a part, then the list; None when the case records no part."""
    mounts = case.configuration.mounting
    if not mounts:
        return None
    drawn = list(enumerate((mount for mount in mounts if not lacking(mount)), 1))
    bands: dict[tuple[str, str | None], list[tuple[int, Mount]]] = {}
    for number, mount in drawn:
        place = PLACES[mount.site]
        bands.setdefault((place.body, mount.limb if place.limb else None), []).append((number, mount))
    shapes: list[Shape] = []
    top, alt = 4.0, [words["pads_title"]]
    for (name, limb), numbered in bands.items():
        band, top = _band(name, limb, numbered, case, top, words)
        shapes += band
    for number, mount in drawn:
        row, top = _row(number, mount, top, words)
        shapes += row
        named = f"{mount.part}, {mount.at.rstrip('. ')}" if mount.at else mount.part
        alt.append(words["pads_alt"].format(part=f"{number}, {named}", gap=in_mm(mount.gap_mm or 0, words)))
    if drawn:
        shapes.append(Text(4, top + 14, words["pads_scale"], 9.5))
        top += 18
    for mount in mounts:
        if why := lacking(mount):
            shapes.append(
                Text(
                    4, top + 10, words["not_drawn"].format(part=two_lines(mount.part, 40)[0], why=words[why]), 10, True
                )
            )
            alt.append(f"{words['not_drawn'].format(part=mount.part, why=words[why])}.")
            top += 14
    return Scene(_WIDTH, top + 4, " ".join(alt), tuple(shapes))


def _row(number: int, mount: Mount, top: float, words: Mapping[str, str]) -> tuple[list[Shape], float]:
    """One part of the list: number, name, gap, height and what is not known of its size."""
    names = two_lines(mount.part, 36)
    facts = [in_mm(mount.gap_mm or 0, words)]
    if mount.height_mm is not None and mount.site != "foot":  # a foot stands below the seat
        facts.append(words["height"].format(**in_both(mount.height_mm, words)))
    if mount.wide_mm is None:
        facts.append(words["no_size"])
    return [
        *ringed(14, top + 10, str(number)),
        *(Text(30, top + 14 + 11 * at, name, 10.5, True) for at, name in enumerate(names)),
        *(Text(246, top + 14 + 11 * at, fact, 10.5 if at == 0 else 10) for at, fact in enumerate(facts)),
    ], top + max(20, 5 + 11 * max(len(names), len(facts)))


def _band(
    name: str, limb: str | None, mounts: Sequence[tuple[int, Mount]], case: Case, top: float, words: Mapping[str, str]
) -> tuple[list[Shape], float]:
    """Both views of one part of the body below its name."""
    body = _body(name, [mount for _, mount in mounts], case)
    if limb == "right":
        body = Body(
            mirrored(body.above),
            body.side,
            tuple(map(mirrored, body.under)),
            tuple(map(mirrored, body.above_more)),
            body.side_more,
        )
    parts = list(placed(name, limb, mounts))
    seen = _seen_from(limb, parts)
    above, side = _above(body, parts, name == "head", words), _side(body, parts, seen, words)
    drawn: list[Shape] = []
    high = max(_bottom(above) - _top(above), _bottom(side) - _top(side))
    title = words["head_band"] if limb is None else words[f"{name}_{limb}"]
    y = top + 12
    drawn += [
        Text(_ABOVE_X, y, f"{title}: {words['from_above']}", 10.5, True, "middle"),
        Text(_SIDE_X, y, f"{title}: {words[f'from_{seen}']}", 10.5, True, "middle"),
    ]
    for x, view, sign in ((_ABOVE_X, above, 0), (_SIDE_X, side, 1 if seen == "left" else -1)):
        middle = y + 14 + high / 2 - (_top(view) + _bottom(view)) / 2
        drawn += moved(view, 1, x, middle)
        at = y + 24 + high / 2
        if sign == 0:
            drawn += [Text(4, at + 22, words["front"], 9.5), *arrow([(14, at + 8), (14, at - 18)], 1.6, 8)]
        elif sign > 0:
            drawn += [Text(232, y + 28, words["front"], 9.5), *arrow([(256, y + 38), (232, y + 38)], 1.6, 8)]
        else:
            drawn += [
                Text(_WIDTH - 4, y + 28, words["front"], 9.5, anchor="end"),
                *arrow([(_WIDTH - 28, y + 38), (_WIDTH - 4, y + 38)], 1.6, 8),
            ]
    return drawn, y + 14 + high + 8


def _body(name: str, mounts: Sequence[Mount], case: Case) -> Body:
    if name == "head":
        size = case.client.head
        width, length = (
            min(size.width_mm or HEAD_MM[0], MOST_HEAD_MM[0]),
            min(size.length_mm or HEAD_MM[1], MOST_HEAD_MM[1]),
        )
        return head(width, length, any(mount.site in ("mouth", "chin") for mount in mounts))
    return {"hand": HAND, "knee": KNEE, "foot": FOOT}[name]


def _seen_from(limb: str | None, parts: Sequence[Drawn]) -> str:
    """The side to look from: where there is a part, else the outer side of the limb, else the left."""
    sides = {part.side for part in parts} & {"left", "right"}
    return sides.pop() if len(sides) == 1 else limb or "left"


def _poly(outline: Outline, fill: float | None = 0.95, width: float = 1.0) -> Poly:
    return Poly(tuple((round(x * _SCALE, 2), round(y * _SCALE, 2)) for x, y in outline), fill=fill, width=width)


def _box(left: float, top: float, w: float, h: float, is_round: bool = False) -> Circle | Rect:
    if is_round:
        return Circle((left + w / 2) * _SCALE, (top + h / 2) * _SCALE, w / 2 * _SCALE, fill=_GREY, width=1.2)
    return Rect(left * _SCALE, top * _SCALE, w * _SCALE, h * _SCALE, fill=_GREY, radius=2, width=1.2)


def _angle(part: Drawn, axis: str) -> float:
    """How far a flat part is turned about an axis, in degrees; none for what the footplate turns with itself."""
    mount = part.mount
    leans = not part.round and mount.angle_axis == axis and mount.held_by != "footplate"
    return mount.angle_deg or 0.0 if leans else 0.0


def _as_part_sees(outline: Outline, x: float, y: float, degrees: float) -> Outline:
    """The outline turned back about x, y by the angle of a part, so that the face of the part is square to the page.

    The gap is then measured across the face, and what is drawn is turned with the part by `_leaning`.
    """
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return tuple((x + (a - x) * cos + (b - y) * sin, y - (a - x) * sin + (b - y) * cos) for a, b in outline)


def _leaning(shapes: Sequence[Shape], x: float, y: float, degrees: float) -> list[Shape]:
    """A part, its gap and its number turned clockwise about x, y in mm.

    A yaw to the right is clockwise from above, and a pitch to the back is so from the left.
    """
    if not degrees:
        return list(shapes)
    back = moved(shapes, 1, -x * _SCALE, -y * _SCALE)
    return moved(turned(back, degrees), 1, x * _SCALE, y * _SCALE)


def _numbered(part: Drawn, x: float, y: float, dx: float, dy: float, room: float) -> list[Shape]:
    """The number in the part when there is room for it, else beside its edge at x, y on the side that dx, dy point
    to."""
    if room * _SCALE >= 19:
        return ringed(x * _SCALE, y * _SCALE, str(part.number))
    return ringed(x * _SCALE + 11 * dx, y * _SCALE + 11 * dy, str(part.number))


def _above(body: Body, parts: Sequence[Drawn], with_word: bool, words: Mapping[str, str]) -> list[Shape]:
    """Front towards the top of the page; left on the page is the driver's left."""
    shapes: list[Shape] = [*map(_poly, body.under), _poly(body.above), *map(_poly, body.above_more)]
    for part in parts:
        match part.side:
            case "left" | "right":
                shapes += _beside_from_above(body, part)
            case "front" | "back":
                shapes += _before_from_above(body, part)
            case _:
                shapes += _level_from_above(part)
    if any(shape.dash for shape in shapes if isinstance(shape, Poly)):
        shapes += _key_of_dashes(body, any(part.side == "above" for part in parts), words)
    if with_word and body.above_more:
        shapes.append(
            Text(0, (min(y for _, y in body.above_more[0]) + 30) * _SCALE, words["lips"], 9.5, anchor="middle")
        )
    return shapes


def _beside_from_above(body: Body, part: Drawn) -> list[Shape]:
    """A part at the left or the right, its gap from the outermost point of the body along it."""
    sign = -1 if part.side == "left" else 1
    low, high = part.along - part.long / 2, part.along + part.long / 2
    pivot = (reach(body.above, part.side, low, high)[0], part.along, _angle(part, "yaw"))
    edge, at = reach(_as_part_sees(body.above, *pivot), part.side, low, high)
    inner = edge + sign * (part.mount.gap_mm or 0)
    drawn = [
        _box(min(inner, inner + sign * _PAD_MM), part.along - part.long / 2, _PAD_MM, part.long),
        *_span(edge, at, inner, at),
        *_numbered(part, inner + sign * _PAD_MM, part.along, sign, 0, 0),
    ]
    return _leaning(drawn, *pivot)


def _before_from_above(body: Body, part: Drawn) -> list[Shape]:
    """A part in front or behind; lips and fingers have an outline of their own."""
    sign = -1 if part.side == "front" else 1
    lips = part.mount.site in ("mouth", "chin")
    outline = body.above_more[0] if lips else _finger_outline(body, part) or body.above
    half = 0.0 if part.stands else part.wide / 2  # a round stick is nearest at its middle
    low, high = part.across - half, part.across + half
    pivot = (part.across, reach(outline, part.side, low, high)[0], _angle(part, "yaw"))
    edge, at = reach(_as_part_sees(outline, *pivot), part.side, low, high)
    inner, thick = edge + sign * (part.mount.gap_mm or 0), part.wide if part.stands else _PAD_MM
    outside = inner + sign * (thick / 2 if part.stands and thick * _SCALE >= 19 else thick)
    drawn = [
        _box(part.across - part.wide / 2, min(inner, inner + sign * thick), part.wide, thick, part.stands),
        *_span(at, edge, at, inner),
        *_numbered(part, part.across, outside, 0, sign, thick if part.stands else 0),
    ]
    return _leaning(drawn, *pivot)


def _level_from_above(part: Drawn) -> list[Shape]:
    """A part under the body or over it: its outline dashed, at each finger it is for."""
    spots = [FINGERS[finger] for finger in fingers_of(part.mount)]
    spots = spots or [(abs(part.across), part.along - part.long / 2)]
    turn = 1 if part.across >= 0 else -1
    front = min(tip for _, tip in spots)
    return [
        *(_dashed(turn * x - part.wide / 2, tip, part.wide, part.long) for x, tip in spots),
        *ringed(part.across * _SCALE, (front * _SCALE) - 13, str(part.number)),
    ]


def _key_of_dashes(body: Body, is_above: bool, words: Mapping[str, str]) -> list[Shape]:
    """What a dashed outline means, below the body."""
    low = max(y for outline in (body.above, *body.under) for _, y in outline) * _SCALE + 18
    return [
        Poly(((-60, low - 8), (-46, low - 8), (-46, low), (-60, low)), width=1.4, dash=(3.0, 2.0)),
        Text(-40, low, words["dashed_above" if is_above else "dashed_below"], 9.5),
    ]


def _finger_outline(body: Body, part: Drawn) -> Outline | None:
    """The outline of the fingers in front of which a part stands."""
    if part.mount.site != "hand" or part.mount.near == "palm":
        return None
    return tuple(point for finger in body.under for point in finger)


def _span(x1: float, y1: float, x2: float, y2: float) -> list[Shape]:
    return span(x1 * _SCALE, y1 * _SCALE, x2 * _SCALE, y2 * _SCALE)


def _dashed(left: float, top: float, w: float, h: float) -> Poly:
    """Outline of a part that is under the body here, or above it."""
    corners = ((left, top), (left + w, top), (left + w, top + h), (left, top + h))
    return Poly(tuple((x * _SCALE, y * _SCALE) for x, y in corners), width=1.4, dash=(3.0, 2.0))


def _side(body: Body, parts: Sequence[Drawn], seen: str, words: Mapping[str, str]) -> list[Shape]:
    """Seen from the side `seen`; drawn as from the left and turned round for the right. A part on the far side is not
    seen."""
    shapes: list[Shape] = [_poly(body.side), *(_poly(line, None, 0.8) for line in body.side_more)]
    later: list[Shape] = []  # over all the others
    nearest = max((part.along + part.long / 2 for part in parts if part.side == seen), default=None)
    for part in parts:
        if part.side in ("front", "back"):
            drawn, marks = _before_from_side(body, part, nearest)
        elif part.side in ("above", "below"):
            drawn, marks = _level_from_side(body, part, words)
        elif part.side == seen:
            drawn, marks = _beside_from_side(part)
        else:
            continue
        shapes += drawn
        later += marks
    whole = [*shapes, *later]
    if on_plate := [part.mount.angle_deg or 0.0 for part in parts if part.mount.held_by == "footplate"]:
        y = SOLE_Y * _SCALE + 2
        whole = turned(
            [*shapes, Line(-104, y, 92, y, 2.4), *later], max(-_MOST_TILT_DEG, min(max(on_plate), _MOST_TILT_DEG))
        )  # toes up, with all that is on it
        whole.append(Text(0, _bottom(whole) + 4, words["footplate"], 9.5, anchor="middle"))
    return moved(whole, -1 if seen == "right" else 1)


_Layers = tuple[list[Shape], list[Shape]]
"""What is drawn of a part, and what stands over all that is drawn: its number, words."""


def _before_from_side(body: Body, part: Drawn, nearest: float | None) -> _Layers:
    """A part in front or behind.

    nearest  how far back the parts at the side reach that are seen before it; None without one
    """
    sign = -1 if part.side == "front" else 1
    half = max(part.high / 2, _LIPS_MM) if part.mount.site == "mouth" else part.high / 2
    side, low, high = "left" if sign < 0 else "right", part.up - half, part.up + half
    pivot = (reach(body.side, side, low, high)[0], part.up, _angle(part, "pitch"))
    edge, at = reach(_as_part_sees(body.side, *pivot), side, low, high)
    inner, thick = edge + sign * (part.mount.gap_mm or 0), part.wide if part.stands else _PAD_MM
    drawn = [_box(min(inner, inner + sign * thick), part.up - part.high / 2, thick, part.high)]
    if sign > 0 and nearest is not None and nearest > inner:  # hidden by a part at the side: its number stands below
        number = _numbered(part, inner + thick / 2, part.up + part.high / 2, 0, 1, 0)
    else:
        share = 0.5 if min(thick, part.high) * _SCALE >= 19 else 1
        number = _numbered(part, inner + sign * thick * share, part.up, sign, 0, min(thick, part.high))
    return _leaning([*drawn, *_span(edge, at, inner, at)], *pivot), _leaning(number, *pivot)


def _level_from_side(body: Body, part: Drawn, words: Mapping[str, str]) -> _Layers:
    """A part under the body or over it, with the tray that holds it."""
    sign = -1 if part.side == "above" else 1
    length, fingers = part.long, fingers_of(part.mount)
    front = min(x for x, _ in body.side)
    at_x = front + 6 + length / 2 if fingers else part.along
    edge, at = reach(body.side, part.side, at_x - length / 2, at_x + length / 2)
    inner = edge + sign * (part.mount.gap_mm or 0)
    drawn = [
        _box(at_x - length / 2, min(inner, inner + sign * _PAD_MM), length, _PAD_MM),
        *_span(at, edge, at, inner),
    ]
    left = min(at_x - length / 2, front) if fingers else at_x - length / 2
    marks = ringed(left * _SCALE - 11, (inner + sign * _PAD_MM / 2) * _SCALE, str(part.number))
    if part.mount.held_by == "tray":
        y = (inner + sign * _PAD_MM) * _SCALE + 1
        drawn.append(Line(-74, y, 66, y, 2.4))
        marks.append(Text(64, y + 12, words["tray"], 9.5, anchor="end"))
    return drawn, marks


def _beside_from_side(part: Drawn) -> _Layers:
    """A part at the side that is looked at: what is behind it can be seen, but for a round one."""
    x, y = (part.along, part.up) if part.mount.site != "knee" else KNEE_SIDE
    box = _box(x - part.long / 2, y - part.high / 2, part.long, part.high, part.round)
    drawn = replace(box, fill=None, width=1.6) if isinstance(box, Rect) else box
    return [drawn], _numbered(part, x, y, 0, -1, min(part.long, part.high))


def _ys(shapes: Sequence[Shape]) -> Iterator[float]:
    for shape in shapes:
        match shape:
            case Line(_, y1, _, y2):
                yield from (y1, y2)
            case Rect(_, y, _, h):
                yield from (y, y + h)
            case Circle(_, y, r):
                yield from (y - r, y + r)
            case Poly(points):
                yield from (y for _, y in points)
            case Text(_, y, _, size):
                yield from (y - size, y + 3)


def _top(shapes: Sequence[Shape]) -> float:
    return min(_ys(shapes))


def _bottom(shapes: Sequence[Shape]) -> float:
    return max(_ys(shapes))
