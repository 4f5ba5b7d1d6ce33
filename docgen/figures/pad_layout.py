"""Where each part stands, by the part of the body it is for: from above and from the side, gaps and sizes to one scale.

The bodies are outlines, not this person's: a head, a foot, a hand, a knee of adult size, the head of its own size where
that is recorded. Gaps and sizes of parts are the case's own.
Head: medians of the 2012 US Army survey (Gordon et al. 2014, NATICK/TR-15/007), computed from its public data.
Foot, hand and knee: round figures from memory; they only size the drawing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from docgen.case.asked import Mount
from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.gap_gauge import gap_words
from docgen.figures.lettering import two_lines
from docgen.figures.outlines import (
    foot_above,
    foot_side,
    hand_above,
    hand_side,
    head_above,
    head_side,
    knee_above,
    knee_side,
)
from docgen.figures.scene import Poly, Rect, Scene, Shape, Text
from docgen.figures.strokes import Anchor, paragraph, span

_SCALE = 0.56  # points per mm
_WIDTH, _ABOVE_X, _SIDE_X = 482.0, 142.0, 338.0
_PAD_MM, _SIZE_MM, _MOST_MM = 12.0, 40.0, 160.0  # how thick a part is drawn; its size where none is recorded; the largest drawn
_LABEL = 79.0  # the widest label
_LOWER = {"mouth": 0.45, "chin": 0.85}  # of half the head, below its middle
_ROOM, _LITTLE = 32.0, 14.0  # above and below a body: for a part beyond its gap and its words, and where there is none

# side of the body that a site stands for by itself; for the others the case says it
_SIDE_OF = {"head_back": "back", "head_left": "left", "head_right": "right", "mouth": "front", "chin": "front"}
_BODY_OF = {"head_back": "head", "head_left": "head", "head_right": "head", "mouth": "head", "chin": "head", "cheek": "head",
            "foot": "foot", "hand": "hand", "knee": "knee"}


@dataclass(frozen=True, slots=True)
class Body:
    """A part of the body: size in mm from left to right, from front to back and in height, and its two outlines."""

    wide_mm: float
    long_mm: float
    high_mm: float
    above: Callable[..., list[Shape]]
    side: Callable[..., list[Shape]]


_BODIES = {
    "head": Body(151, 195, 230, head_above, head_side),
    "foot": Body(100, 265, 90, foot_above, foot_side),
    "hand": Body(90, 190, 30, hand_above, hand_side),
    "knee": Body(120, 200, 130, knee_above, knee_side),
}


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """A band for each part of the body with a part whose gap and side are recorded; None when there is none."""
    groups: dict[str, list[tuple[str, Mount]]] = {}
    for mount in case.configuration.mounting:
        side, name = mount.side or _SIDE_OF.get(mount.site), _BODY_OF.get(mount.site)
        if side and name and mount.gap_mm is not None:
            groups.setdefault(name, []).append((side, mount))
    if not groups:
        return None
    shapes: list[Shape] = [Text(_ABOVE_X, 14, words["from_above"], 10.5, True, "middle"), Text(_SIDE_X, 14, words["from_side"], 10.5, True, "middle")]
    top = 20.0
    for name, parts in groups.items():
        body = _sized(name, case)
        high = max(body.long_mm, body.high_mm) * _SCALE
        sides = {side for side, _ in parts}
        room = _ROOM + _SCALE * max(mount.gap_mm or 0 for _, mount in parts)
        y = top + (room if sides & {"front", "back", "above"} else _LITTLE) + high / 2
        shapes += [*_above(body, parts, y, words), *_side(body, name, parts, y, words)]
        top = y + high / 2 + (room if sides & {"front", "back"} else _LITTLE + 18) + _further_lines(parts)
        for _, mount in parts if name == "head" else ():
            if mount.height_mm is not None:
                height = words["height"].format(part=mount.part, mm=f"{mount.height_mm:g}", inches=f"{mount.height_mm / 25.4:.1f}")
                shapes.append(Text(_WIDTH - 4, top + 4, height, 9.5, anchor="end"))
                top += 12
        top += 8
    alt = " ".join(words["pads_alt"].format(part=mount.part, gap=gap_words(mount.gap_mm or 0, words)) for parts in groups.values() for _, mount in parts)
    return Scene(_WIDTH, top, f"{words['pads_title']} {alt}", tuple(shapes))


def _sized(name: str, case: Case) -> Body:
    body, head = _BODIES[name], case.client.head
    if name != "head":
        return body
    return Body(head.width_mm or body.wide_mm, head.length_mm or body.long_mm, body.high_mm, body.above, body.side)


def _size_pt(mount: Mount) -> tuple[float, float]:
    """Both sizes of a part in points: from '90 x 60' in mm, else the first figure for both."""
    found = re.match(r"\s*(\d+(?:\.\d+)?)(?:\s*x\s*(\d+(?:\.\d+)?))?", mount.size_mm or "")
    first = float(found[1]) if found else _SIZE_MM
    second = float(found[2]) if found and found[2] else first
    return min(first, _MOST_MM) * _SCALE, min(second, _MOST_MM) * _SCALE


def _above(body: Body, parts: Sequence[tuple[str, Mount]], y: float, words: Mapping[str, str]) -> list[Shape]:
    """Front towards the top of the page; left on the page is the driver's left."""
    x, half_w, half_l, thick = _ABOVE_X, body.wide_mm / 2 * _SCALE, body.long_mm / 2 * _SCALE, _PAD_MM * _SCALE
    shapes = body.above(x, y, half_w, half_l, words)
    for side, mount in parts:
        gap, (size, _) = (mount.gap_mm or 0) * _SCALE, _size_pt(mount)
        if side in ("left", "right"):
            sign = -1 if side == "left" else 1
            inner, edge = x + sign * (half_w + gap), x + sign * half_w
            shapes += [Rect(min(inner, inner + sign * thick), y - size / 2, thick, size, fill=0.55, radius=2),
                       *span(edge, y - size / 2 - 7, inner, y - size / 2 - 7),
                       *_label(inner, y + size / 2 + 4 + 11 * len(two_lines(mount.part, 16)), mount, words, "start" if sign > 0 else "end")]
        elif side in ("front", "back"):
            sign = -1 if side == "front" else 1
            inner, edge = y + sign * (half_l + gap), y + sign * half_l
            aside = x + min(size / 2, half_w) + 8
            named = inner + (13 + _further_lines(parts) if sign > 0 else -7)  # below what is written at the right
            shapes += [Rect(x - size / 2, min(inner, inner + sign * thick), size, thick, fill=0.55, radius=2),
                       *span(aside, edge, aside, inner), *_label(aside + 9, named, mount, words, "start")]
        else:
            shapes.append(_dashed(x, y - half_l * 0.6, size / 2, size / 2))
    return shapes


def _side(body: Body, name: str, parts: Sequence[tuple[str, Mount]], y: float, words: Mapping[str, str]) -> list[Shape]:
    """Seen from the driver's left, front towards the left of the page; a part at the side is a dashed outline."""
    x, half_l, half_h, thick = _SIDE_X, body.long_mm / 2 * _SCALE, body.high_mm / 2 * _SCALE, _PAD_MM * _SCALE
    shapes = body.side(x, y, half_l, half_h, words)
    seen_at_side: list[str] = []
    n_below = 0
    for side, mount in parts:
        gap, (long, high) = (mount.gap_mm or 0) * _SCALE, _size_pt(mount)
        if side in ("front", "back"):
            sign = -1 if side == "front" else 1
            inner, edge = x + sign * (half_l + gap), x + sign * half_l
            up, at = min(high, 2 * half_h) / 2, y + _LOWER.get(mount.site, 0.0) * half_h
            shapes += [Rect(min(inner, inner + sign * thick), at - up, thick, 2 * up, fill=0.55, radius=2),
                       *span(edge, at - up - 7, inner, at - up - 7)]
            below = mount.site in _LOWER
            shapes += _label(inner + (6 if sign < 0 and not below else 0), at + up + 16 if below else at - up - 27, mount, words, "end" if sign < 0 else "start")
        elif side in ("above", "below"):
            sign = -1 if side == "above" else 1
            inner, edge, middle = y + sign * (half_h + gap), y + sign * half_h, x - half_l * 0.6
            shapes += [Rect(middle - long / 2, min(inner, inner + sign * thick), long, thick, fill=0.55, radius=2),
                       *span(middle + long / 2 + 8, edge, middle + long / 2 + 8, inner)]
            shapes += _label(x - half_l - 4, inner + sign * (thick + 24 + 36 * n_below) - (18 if sign < 0 else 0), mount, words, "start")
            n_below += 1
        elif not any(isinstance(shape, Poly) and shape.dash for shape in shapes):
            shapes.append(_dashed(x, y, long / 2, high / 2))
            seen_at_side.append(mount.part)
        else:
            seen_at_side.append(mount.part)
    if seen_at_side:
        shapes += paragraph(x + 14, y + half_h + 14, words["at_side"].format(part=", ".join(seen_at_side)), 44, 2, 9.5, anchor="middle")
    return shapes


def _dashed(x: float, y: float, half_w: float, half_h: float) -> Poly:
    """Outline of a part that this view looks through the body at, or that stands before it."""
    return Poly(((x - half_w, y - half_h), (x + half_w, y - half_h), (x + half_w, y + half_h), (x - half_w, y + half_h)), dash=(3.0, 2.0))


def _further_lines(parts: Sequence[tuple[str, Mount]]) -> float:
    """Height of what the names at the right and at the back take beyond one line each, where there is one at the back."""
    sides = dict(parts)
    return 11.0 * sum(len(two_lines(sides[side].part, 16)) - 1 for side in ("right", "back") if side in sides) if "back" in sides else 0.0


def _label(x: float, y: float, mount: Mount, words: Mapping[str, str], anchor: Anchor) -> list[Shape]:
    """Name and gap of a part, the gap on the line at y + 11 whatever the name needs."""
    names = two_lines(mount.part, 16)
    x = min(x, _WIDTH - _LABEL) if anchor == "start" else max(x, _LABEL)
    above = [Text(x, y - 11 * (len(names) - 1 - i), name, 9.5, True, anchor) for i, name in enumerate(names)]
    return [*above, Text(x, y + 11, gap_words(mount.gap_mm or 0, words), 9.5, anchor=anchor)]
