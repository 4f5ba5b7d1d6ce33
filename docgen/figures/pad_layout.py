"""Where the head pads stand: from above and from the side, gaps drawn to one scale and written in mm and inches.

The head is an outline, not this person's head: an oval of adult or child breadth. Gaps are the case's own.
Head breadth and length of the outline: medians of the 2012 US Army survey (Gordon et al. 2014, NATICK/TR-15/007),
computed from its public data; they only size the drawing.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from docgen.case.asked import Mount
from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.lettering import two_lines
from docgen.figures.scene import Line, Poly, Rect, Scene, Shape, Text

_HEAD_BREADTH_MM, _HEAD_LENGTH_MM, _HEAD_HEIGHT_MM = 151.0, 195.0, 230.0
_SCALE = 0.56  # points per mm
_WIDTH, _HEIGHT = 470.0, 212.0
_PAD_MM = 12.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """Both views with every recorded gap; None unless a pad at the head has a recorded gap."""
    pads = {pad.site: pad for pad in case.configuration.mounting if pad.site.startswith("head_") and pad.gap_mm is not None}
    if not pads:
        return None
    shapes = [*_above(pads, 138.0, 112.0, words), *_side(pads, 340.0, 112.0, words)]
    alt = " ".join(words["pads_alt"].format(part=pad.part, gap=_gap(pad)) for pad in pads.values())
    return Scene(_WIDTH, _HEIGHT, f"{words['pads_title']} {alt}", tuple(shapes))


def _gap(pad: Mount) -> str:
    return f"{pad.gap_mm:g} mm ({(pad.gap_mm or 0) / 25.4:.1f} in)"


def _oval(x: float, y: float, rx: float, ry: float, **look: float) -> Poly:
    steps = [math.tau * i / 48 for i in range(48)]
    return Poly(tuple((round(x + rx * math.cos(t), 2), round(y + ry * math.sin(t), 2)) for t in steps), **look)


def _above(pads: Mapping[str, Mount], x: float, y: float, words: Mapping[str, str]) -> list[Shape]:
    """Seen from above, nose towards the top of the page; left on the page is the client's left."""
    half_w, half_l = _HEAD_BREADTH_MM / 2 * _SCALE, _HEAD_LENGTH_MM / 2 * _SCALE
    shapes: list[Shape] = [
        Text(x, 14, words["from_above"], 9.5, True, "middle"),
        _oval(x, y, half_w, half_l, fill=0.94, width=1.0),
        Poly(((x - 8, y - half_l + 2), (x, y - half_l - 10), (x + 8, y - half_l + 2)), fill=0.94, width=1.0),
        Text(x, y + 3, words["head"], 9, anchor="middle"),
    ]
    for site, sign in (("head_left", -1), ("head_right", 1)):
        if pad := pads.get(site):
            gap = (pad.gap_mm or 0) * _SCALE
            inner = x + sign * (half_w + gap)
            left = inner if sign > 0 else inner - _PAD_MM * _SCALE
            shapes += [
                Rect(left, y - 26, _PAD_MM * _SCALE, 52, fill=0.55, radius=2),
                *_span(x + sign * half_w, y - 34, inner, y - 34),
                *_label(inner + sign * 12, y - 40, pad, "start" if sign > 0 else "end"),
            ]
    if pad := pads.get("head_back"):
        gap = (pad.gap_mm or 0) * _SCALE
        top = y + half_l + gap
        shapes += [
            Rect(x - 34, top, 68, _PAD_MM * _SCALE, fill=0.55, radius=2),
            *_span(x + 42, y + half_l, x + 42, top),
            *_label(x + 52, top + 2, pad, "start"),
        ]
    return shapes


def _side(pads: Mapping[str, Mount], x: float, y: float, words: Mapping[str, str]) -> list[Shape]:
    """Seen from the client's left side, face towards the left of the page."""
    half_l, half_h = _HEAD_LENGTH_MM / 2 * _SCALE, _HEAD_HEIGHT_MM / 2 * _SCALE
    shapes: list[Shape] = [
        Text(x, 14, words["from_side"], 9.5, True, "middle"),
        _oval(x, y, half_l, half_h, fill=0.94, width=1.0),
        Poly(((x - half_l + 1, y - 2), (x - half_l - 11, y + 12), (x - half_l + 3, y + 14)), fill=0.94, width=1.0),
        _oval(x + 8, y + 6, 8, 12, fill=1.0),
        Text(x + 8, y - 9, words["ear"], 8.5, anchor="middle"),
    ]
    if pad := pads.get("head_back"):
        gap = (pad.gap_mm or 0) * _SCALE
        inner = x + half_l + gap
        shapes += [
            Rect(inner, y - 20, _PAD_MM * _SCALE, 40, fill=0.55, radius=2),
            *_span(x + half_l, y - 28, inner, y - 28),
            *_label(inner - 2, y - 46, pad, "start"),
        ]
        if pad.height_mm is not None:
            height = words["height"].format(mm=f"{pad.height_mm:g}", inches=f"{pad.height_mm / 25.4:.1f}")
            shapes.append(Text(_WIDTH - 2, y + half_h + 22, height, 8.5, anchor="end"))
    if "head_left" in pads or "head_right" in pads:
        shapes.append(Poly(((x - 22, y - 20), (x + 34, y - 20), (x + 34, y + 34), (x - 22, y + 34)), dash=(3.0, 2.0)))
        shapes.append(Text(x + 6, y + 46, words["side_pad_here"], 8.5, anchor="middle"))
    return shapes


def _span(x1: float, y1: float, x2: float, y2: float) -> list[Shape]:
    """The gap itself: a heavy line with a tick at each end."""
    dx, dy = (0.0, 4.0) if y1 == y2 else (4.0, 0.0)
    return [
        Line(x1, y1, x2, y2, 1.4),
        Line(x1 - dx, y1 - dy, x1 + dx, y1 + dy, 0.9),
        Line(x2 - dx, y2 - dy, x2 + dx, y2 + dy, 0.9),
    ]


def _label(x: float, y: float, pad: Mount, anchor: str) -> list[Shape]:
    """Name and gap of a pad, the gap on the line at y + 11 whatever the name needs."""
    names = two_lines(pad.part, 15)
    above = [Text(x, y - 10 * (len(names) - 1 - i), name, 9, True, anchor) for i, name in enumerate(names)]  # type: ignore[arg-type]
    return [*above, Text(x, y + 11, _gap(pad), 9, anchor=anchor)]  # type: ignore[arg-type]
