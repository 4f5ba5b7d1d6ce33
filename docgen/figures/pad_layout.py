"""Where each part stands, by the part of the body it is for: from above and from the side, gaps and sizes to one scale.

A part is drawn where the mounting record says that it is, see `placing`; one whose place is not known is not drawn, and
the drawing names it and says so. Each part has a number, the same in both views and in the list below.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.evidence.fact import Evidence
from docgen.figures.gap_gauge import in_mm
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
from docgen.figures.panels import PAGE, PANEL, Told, bounds, composed, listed, panel, stacked, text_width
from docgen.figures.placing import PLACES, Drawn, fingers_of, lacking, placed
from docgen.figures.strokes import arrow, moved, ringed, span, turned
from docgen.scene import LETTERS_PT, PANELS_APART_PT, Circle, Line, Poly, Rect, Scene, Shape, Text

MADE_FROM = ("configuration.mounting", "client.head.width_mm")

_SCALE = 0.5  # points per mm
_PAD_MM, _MOST_THICK_MM = 12.0, 40.0  # how thick a part is drawn whose thickness is not recorded; and at most
_PLATE_MM = 4.0  # of the plate behind a pad
_LIPS_MM = 12.0  # half the height of both lips
_MOST_TILT_DEG = 30.0  # the steepest footplate drawn
_GREY = 0.7


_LEAST, _CLOSE = 100.0, 8.0  # width of words beside both views; between the words of two parts
_THIRD = (PAGE - 2 * PANELS_APART_PT) / 3


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """Both views of each part of the body with a part, then a panel of words for each part; None when the case records
    no part."""
    mounts = case.configuration.mounting
    if not mounts:
        return None
    bands: dict[tuple[str, str | None], list[tuple[int, Mount]]] = {}
    for number, mount in enumerate(mounts, 1):
        if not lacking(mount):
            place = PLACES[mount.site]
            bands.setdefault((place.body, mount.limb if place.limb else None), []).append((number, mount))
    panels: list[Scene] = []
    for (name, limb), numbered in bands.items():
        above, side = _band(name, limb, numbered, case, words)
        panels += _with_words(above, side, numbered, words)
    panels += [_words_of(number, mount, PANEL, words) for number, mount in enumerate(mounts, 1) if lacking(mount)]
    drawing = composed(panels)  # the words of the whole say that it is no drawing to measure on
    return replace(drawing, alt=f"{drawing.alt} {words['pads_scale']}") if bands else drawing


def _with_words(
    above: Scene, side: Scene, numbered: Sequence[tuple[int, Mount]], words: Mapping[str, str]
) -> list[Scene]:
    """Both views with the words of their parts: below the lower view where they fit, else beside both, else below."""
    words_below = [_words_of(number, mount, _THIRD, words) for number, mount in numbered]
    if (column := stacked([side, *words_below], _CLOSE)).h <= above.h:
        return [above, column]
    left = PAGE - above.w - side.w - 2 * PANELS_APART_PT
    if left >= _LEAST:
        return [above, side, stacked([_words_of(*part, min(left, PANEL), words) for part in numbered], _CLOSE)]
    return [above, side, *words_below]


def _words_of(number: int, mount: Mount, room: float, words: Mapping[str, str]) -> Scene:
    """The words of one part: number, name, gap and what is not known of it."""
    named = f"{mount.part}, {mount.at.rstrip('. ')}" if mount.at else mount.part
    if why := lacking(mount):
        line = words["not_drawn"].format(part=mount.part, why=words[why])
        return listed(str(number), [Told(line, True)], f"{number}: {line}.", w=room)
    gap = in_mm(mount.gap_mm or 0, words)
    lines = [Told(mount.part, True)]  # its gap stands at true size in the next drawing, and on the card
    if mount.wide_mm is None:
        lines.append(Told(words["no_size"]))
    return listed(str(number), lines, words["pads_alt"].format(part=f"{number}, {named}", gap=gap), w=room)


def _band(
    name: str, limb: str | None, mounts: Sequence[tuple[int, Mount]], case: Case, words: Mapping[str, str]
) -> list[Scene]:
    """Both views of one part of the body."""
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
    title = words["head_band"] if limb is None else words[f"{name}_{limb}"]
    views = (
        (words["from_above"], _above(body, parts, name == "head", words), 0),
        (words[f"from_{seen}"], _side(body, parts, seen, words), 1 if seen == "left" else -1),
    )
    return [
        panel(
            [*shapes, *_front(shapes, sign, words)],
            words["view_alt"].format(body=title, view=view),
            words["view_title"].format(body=title, view=view),
            leads=sign == 0,
        )
        for view, shapes, sign in views
    ]


def _front(shapes: Sequence[Shape], sign: int, words: Mapping[str, str]) -> list[Shape]:
    """An arrow that says where the front is: beside a view from above, over a view from the side.

    sign  0 from above, 1 from the left, -1 from the right
    """
    left, top, right, _ = bounds(shapes)
    if sign == 0:
        x = left - text_width(words["front"]) / 2 - 6
        return [Text(x, top + 46, words["front"], LETTERS_PT, anchor="middle"), *arrow([(x, top + 32), (x, top + 4)])]
    if sign > 0:
        word = Text(left + 34, top - 8, words["front"], LETTERS_PT)
        return [word, *arrow([(left + 28, top - 12), (left, top - 12)])]
    word = Text(right - 34, top - 8, words["front"], LETTERS_PT, anchor="end")
    return [word, *arrow([(right - 28, top - 12), (right, top - 12)])]


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
    if room * _SCALE >= 21:
        return ringed(x * _SCALE, y * _SCALE, str(part.number))
    return ringed(x * _SCALE + 12 * dx, y * _SCALE + 12 * dy, str(part.number))


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
    shapes = _numbers_last(shapes)
    if any(shape.dash for shape in shapes if isinstance(shape, Poly)):
        shapes += _key_of_dashes(body, any(part.side == "above" for part in parts), words)
    if with_word and body.above_more:
        shapes.append(
            Text(0, (min(y for _, y in body.above_more[0]) + 36) * _SCALE, words["lips"], LETTERS_PT, anchor="middle")
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


def _beside_from_above(body: Body, part: Drawn) -> list[Shape]:
    """A part at the left or the right, its gap from the outermost point of the body along it."""
    sign = -1 if part.side == "left" else 1
    low, high = part.along - part.long / 2, part.along + part.long / 2
    pivot = (reach(body.above, part.side, low, high)[0], part.along, _angle(part, "yaw"))
    edge, at = reach(_as_part_sees(body.above, *pivot), part.side, low, high)
    inner = edge + sign * (part.mount.gap_mm or 0)
    drawn = [
        *_body_of(part, inner, part.along, sign, 0),
        *_span(edge, at, inner, at),
        *_numbered(part, inner + sign * (_thick(part) + _PLATE_MM), part.along, sign, 0, 0),
    ]
    return _leaning(drawn, *pivot)


def _thick(part: Drawn) -> float:
    """How thick a part is drawn, from its face to its plate, in mm."""
    return min(part.mount.thick_mm or _PAD_MM, _MOST_THICK_MM)


def _body_of(part: Drawn, x: float, y: float, dx: int, dy: int) -> list[Shape]:
    """A pad or a switch seen along its face, whose middle is at x, y, with the plate that holds it.

    dx, dy  the way from the face to the plate; a switch has the edge of its cap behind the face
    """
    thick, half = _thick(part), (part.long if dx else part.wide) / 2
    if dx:
        box = _box(min(x, x + dx * thick), y - half, thick, 2 * half)
        plate = _box(x + dx * thick + (0 if dx > 0 else -_PLATE_MM), y - half * 0.6, _PLATE_MM, 1.2 * half)
        cap = ((x + dx * thick * 0.4, y - half), (x + dx * thick * 0.4, y + half))
    else:
        box = _box(x - half, min(y, y + dy * thick), 2 * half, thick)
        plate = _box(x - half * 0.6, y + dy * thick + (0 if dy > 0 else -_PLATE_MM), 1.2 * half, _PLATE_MM)
        cap = ((x - half, y + dy * thick * 0.4), (x + half, y + dy * thick * 0.4))
    edge: list[Shape] = [_poly(cap, None, 0.8)] if part.round else []
    return [replace(plate, fill=0.3, radius=1.0), box, *edge] if isinstance(plate, Rect) else [box]


def _tube(x: float, y: float, way: tuple[tuple[float, float], ...]) -> list[Shape]:
    """The breath tube from x, y along a way, in mm: white between two lines."""
    points = tuple((round((x + a) * _SCALE, 2), round((y + b) * _SCALE, 2)) for a, b in ((0.0, 0.0), *way))
    return [Poly(points, closed=False, width=6.0), Poly(points, closed=False, width=3.6, stroke=1.0)]


def _before_from_above(body: Body, part: Drawn) -> list[Shape]:
    """A part in front or behind; lips and fingers have an outline of their own."""
    sign = -1 if part.side == "front" else 1
    lips = part.mount.site in ("mouth", "chin")
    outline = body.above_more[0] if lips else _finger_outline(body, part) or body.above
    half = 0.0 if part.stands else part.wide / 2  # a round stick is nearest at its middle
    low, high = part.across - half, part.across + half
    pivot = (part.across, reach(outline, part.side, low, high)[0], _angle(part, "yaw"))
    edge, at = reach(_as_part_sees(outline, *pivot), part.side, low, high)
    inner = edge + sign * (part.mount.gap_mm or 0)
    gap = _span(at, edge, at, inner)
    if part.mount.site == "mouth":
        return _leaning([*_mouthpiece_from_above(part, inner), *gap], *pivot)
    if not part.stands:
        outside = inner + sign * (_thick(part) + _PLATE_MM)
        pad = _body_of(part, part.across, inner, 0, sign)
        return _leaning([*pad, *gap, *_numbered(part, part.across, outside, 0, sign, 0)], *pivot)
    outside = inner + sign * (part.wide / 2 if part.wide * _SCALE >= 21 else part.wide)
    stick = _box(part.across - part.wide / 2, min(inner, inner + sign * part.wide), part.wide, part.wide, True)
    return _leaning([stick, *gap, *_numbered(part, part.across, outside, 0, sign, part.wide)], *pivot)


def _mouthpiece_from_above(part: Drawn, inner: float) -> list[Shape]:
    """The mouthpiece before the lips and its tube, which comes from the side that it swings to."""
    way = {"left": -1, "right": 1}.get(part.mount.swings or "", 0)
    outer = inner - max(part.wide, _PAD_MM)
    box = _box(part.across - part.wide / 2, outer, part.wide, inner - outer)
    bend = ((0.0, -14.0), (way * 26.0, -26.0), (way * 62.0, -26.0)) if way else ((0.0, -40.0),)
    number = ringed(
        (part.across - (way or -1) * part.wide / 2) * _SCALE - (way or -1) * 12,
        (inner + outer) / 2 * _SCALE - 6,
        str(part.number),
    )
    return [*_tube(part.across, outer, bend), box, *number]


def _level_from_above(part: Drawn) -> list[Shape]:
    """A part under the body or over it: its outline dashed, at each finger it is for."""
    spots = [FINGERS[finger] for finger in fingers_of(part.mount)]
    spots = spots or [(abs(part.across), part.along - part.long / 2)]
    turn = 1 if part.across >= 0 else -1
    front = min(tip for _, tip in spots)
    return [
        *(_dashed(turn * x - part.wide / 2, tip, part.wide, part.long) for x, tip in spots),
        *ringed(part.across * _SCALE, (front * _SCALE) - 14, str(part.number)),
    ]


def _key_of_dashes(body: Body, is_above: bool, words: Mapping[str, str]) -> list[Shape]:
    """What a dashed outline means, below the body."""
    low = max(y for outline in (body.above, *body.under) for _, y in outline) * _SCALE + 18
    return [
        Poly(((-60, low - 8), (-46, low - 8), (-46, low), (-60, low)), width=1.4, dash=(3.0, 2.0)),
        Text(-40, low, words["dashed_above" if is_above else "dashed_below"], LETTERS_PT),
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
            [*shapes, Line(-186 * _SCALE, y, 166 * _SCALE, y, 2.4), *later],
            max(-_MOST_TILT_DEG, min(max(on_plate), _MOST_TILT_DEG)),
        )  # toes up, with all that is on it
        whole.append(Text(0, bounds(whole)[3] + 10, words["footplate"], LETTERS_PT, anchor="middle"))
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
    inner = edge + sign * (part.mount.gap_mm or 0)
    thick = part.wide if part.stands else max(part.wide, _PAD_MM) if part.mount.site == "mouth" else _thick(part)
    drawn: list[Shape] = [_box(min(inner, inner + sign * thick), part.up - part.high / 2, thick, part.high)]
    if part.mount.site == "mouth":
        outer = inner - thick
        drawn = [*_tube(outer, part.up, ((-14.0, 2.0), (-26.0, 14.0), (-26.0, 58.0))), *drawn]
        number = ringed(outer * _SCALE - 4, (part.up - part.high / 2) * _SCALE - 14, str(part.number))
        return _leaning([*drawn, *_span(edge, at, inner, at)], *pivot), _leaning(number, *pivot)
    if part.stands:  # the boot round the foot of a stick
        low, high = part.up + part.high * 0.08, part.up + part.high * 0.3
        drawn += [_poly(((inner, y), (inner + sign * thick, y)), None, 0.8) for y in (low, high)]
    else:
        plate = _box(
            inner + sign * thick + (0 if sign > 0 else -_PLATE_MM),
            part.up - part.high * 0.3,
            _PLATE_MM,
            part.high * 0.6,
        )
        drawn.insert(0, replace(plate, fill=0.3) if isinstance(plate, Rect) else plate)
    if sign > 0 and nearest is not None and nearest > inner:  # hidden by a part at the side: its number stands below
        number = _numbered(part, inner + thick / 2, part.up + part.high / 2, 0, 1, 0)
    else:
        share = 0.5 if min(thick, part.high) * _SCALE >= 21 else 1
        outside = thick * share if share < 1 else thick + (0 if part.stands else _PLATE_MM)
        number = _numbered(part, inner + sign * outside, part.up, sign, 0, min(thick, part.high))
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
    marks = ringed(left * _SCALE - 12, (inner + sign * _PAD_MM / 2) * _SCALE, str(part.number))
    if part.mount.held_by == "tray":
        y = (inner + sign * _PAD_MM) * _SCALE + 1
        drawn.append(Line(-74, y, 66, y, 2.4))
        marks.append(Text(64, y + 14, words["tray"], LETTERS_PT, anchor="end"))
    return drawn, marks


def _beside_from_side(part: Drawn) -> _Layers:
    """A part at the side that is looked at: what is behind it can be seen, but for a round one."""
    x, y = (part.along, part.up) if part.mount.site != "knee" else KNEE_SIDE
    box = _box(x - part.long / 2, y - part.high / 2, part.long, part.high, part.round)
    drawn: list[Shape] = [replace(box, fill=None, width=1.6) if isinstance(box, Rect) else box]
    if isinstance(box, Circle) and box.r > 14:
        drawn.append(Circle(box.x, box.y, box.r - 3.5, width=0.8))  # the edge of its cap
    return drawn, _numbered(part, x, y, 0, -1, min(part.long, part.high))
