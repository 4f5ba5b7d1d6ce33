"""Back at its mark: for each kind of mark of the record how it looks when it is right and when it is wrong; before them
each part that swings."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from functools import partial

from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.evidence.fact import Evidence
from docgen.figures.outlines import FOOT
from docgen.figures.strokes import arrow, moved, oval, paragraph
from docgen.fit.feature import features
from docgen.scene import Circle, Line, Poly, Rect, Scene, Shape, Text

MADE_FROM = ("configuration.mounting",)

_WIDTH, _ROW = 480.0, 84.0
_KINDS = ("lines", "edge", "outline")
_OFF = 11.0  # how far a wrong mark is off


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """A row for the parts that swing and one for each kind of mark; None when the record holds neither."""
    mounts = case.configuration.mounting
    swings = _swings_away(case)
    kinds = {kind: [mount for mount in mounts if mount.mark and mount.mark_kind == kind] for kind in _KINDS}
    kinds = {kind: marked for kind, marked in kinds.items() if marked}
    if not mounts or not (swings or kinds):
        return None
    shapes: list[Shape] = []
    in_words: list[str] = []
    y = 0.0
    if swings:
        drawn, alt = _swing([mount for mount in mounts if mount.swings], words)
        shapes, in_words, y = list(drawn), [alt], 108.0
    for kind, marked in kinds.items():
        shapes += [
            *moved(_pair(kind, words, all(mount.site == "foot" for mount in marked)), 1, 0, y),
            *_list(marked, y, words[f"mark_{kind}"]),
        ]
        y += _ROW
    if kinds:
        marks = dict.fromkeys(mount.mark.rstrip(". ") for marked in kinds.values() for mount in marked if mount.mark)
        in_words.append(words["marks_alt"].format(marks="; ".join(marks)))
    return Scene(_WIDTH, y, " ".join(in_words), tuple(shapes))


def _list(mounts: Sequence[Mount], y: float, head: str) -> list[Shape]:
    """What the kind of mark is, and the parts that have it."""
    return [
        *paragraph(326, y + 18, head, 27, 2, 11, True),
        *paragraph(326, y + 44, ", ".join(mount.part for mount in mounts), 29, 3, 10.5),
    ]


def _swings_away(case: Case) -> bool:
    """Whether a requested feature swings out of the way."""
    known = features()
    return any("swing" in known[asked.id].kinds for asked in case.configuration.features if asked.id in known)


def _pair(kind: str, words: Mapping[str, str], foot: bool) -> list[Shape]:
    """Right with a tick, wrong with a cross; an outline is of a shoe where all that have one stand at a foot."""
    drawings: dict[str, Callable[[float, float], list[Shape]]] = {
        "lines": _lines,
        "edge": _edge,
        "outline": partial(_outline, _shoe() if foot else _hand()),
    }
    draw = drawings[kind]
    return [
        *draw(20, 0.0),
        Poly(((114, 30), (121, 39), (137, 16)), closed=False, width=3.5),
        *paragraph(72, 76, words["marks_meet" if kind != "outline" else "outline_meets"], 28, 1, 11, True, "middle"),
        *draw(180, _OFF),
        Line(274, 20, 292, 40, 3.5),
        Line(292, 20, 274, 40, 3.5),
        *paragraph(232, 76, words["marks_apart" if kind != "outline" else "outline_apart"], 28, 1, 11, True, "middle"),
    ]


def _lines(x: float, off: float) -> list[Shape]:
    """Two bars of a joint, each with a line across."""
    return [
        Rect(x, 4, 42, 46, fill=0.94, radius=4),
        Rect(x + 42, 4 + off, 42, 46, fill=0.8, radius=4),
        Line(x + 12, 27, x + 41.5, 27, 5.0),
        Line(x + 42.5, 27 + off, x + 72, 27 + off, 5.0),
    ]


def _edge(x: float, off: float) -> list[Shape]:
    """A part with a line on it, and the edge of another part that the line meets."""
    return [
        Rect(x, 27 + off, 84, 33 - off, fill=0.8, width=2.2),
        Rect(x + 26, 4, 34, 46, fill=1.0, radius=4),
        Line(x + 26.5, 27, x + 59.5, 27, 5.0),
    ]


def _outline(body: Sequence[tuple[float, float]], x: float, off: float) -> list[Shape]:
    """A hand or a shoe on an outline of it, or beside it."""
    return [
        Poly(tuple((x + 42 + 1.22 * px, 32 + 1.16 * py) for px, py in body), width=3.0),
        Poly(tuple((x + 42 + off * 1.4 + px, 32 + off * 0.4 + py) for px, py in body), fill=0.85),
    ]


def _shoe() -> list[tuple[float, float]]:
    """A left shoe from above in points."""
    return [(x * 0.2, y * 0.2) for x, y in FOOT.above]


def _hand() -> list[tuple[float, float]]:
    """A left hand from above in points, in one line."""
    points = [(-14.0, 30.0), (-18.0, 12.0), (-18.0, -6.0)]
    for x, tip in ((-16.0, -16.0), (-7.0, -25.0), (2.0, -28.0), (11.0, -23.0)):
        points += [(x - 2.0, tip + 3), (x, tip), (x + 4.0, tip), (x + 6.0, tip + 3), (x + 6.0, -5.0)]
    points += [(18.0, 2.0), (25.0, -6.0), (28.0, -3.0), (22.0, 12.0), (12.0, 30.0)]
    return [(0.8 * x, 0.8 * y) for x, y in points]


# Hinge and end of a swinging part, in points round the middle of a head seen from above; then as it is swung out. For a
# part that swings left.
_ARMS = {
    "head_left": ((-38.0, 34.0), (-38.0, -4.0), (-78.0, 34.0)),
    "front": ((-58.0, 10.0), (0.0, -42.0), (-130.0, -20.0)),
}


def _swing(mounts: Sequence[Mount], words: Mapping[str, str]) -> tuple[list[Shape], str]:
    """The head from above and each part that the record says to swing, in place and, dashed, swung out of the way."""
    drawn = [(mount, arms) for mount in mounts if (arms := _arms(mount))]
    if not drawn:
        known = (
            " ".join(words[f"swings_{mount.swings}"].format(part=mount.part) for mount in mounts)
            or words["swing_unknown"]
        )
        return list(paragraph(4, 40, known, 78, 3, 11, True)), f"{words['swing_alt']} {known}"
    x, y = 156.0, 52.0
    shapes: list[Shape] = [
        Poly(((x - 6, y - 24), (x, y - 33), (x + 6, y - 24)), fill=0.95),
        oval(x - 23, y + 4, 4, 6),
        oval(x + 23, y + 4, 4, 6),
        oval(x, y, 22, 28, fill=0.95),
        Text(x, y + 4, words["head"], 9.5, anchor="middle"),
    ]
    in_words = [words["swing_alt"]]
    for mount, (hinge, end, out) in drawn:
        sign = 1 if mount.swings == "left" else -1
        shapes += moved(_arm(hinge, end, out, mount.site in ("mouth", "chin")), sign, x, y)
        in_words.append(words[f"swings_{mount.swings}"].format(part=mount.part))
    shapes += paragraph(326, 22, words["swing_panel"], 27, 2, 11, True)
    lines = [words[f"swings_{mount.swings}"].format(part=mount.part).rstrip(".") for mount, _ in drawn]
    for at, line in enumerate(lines[:3]):
        shapes += paragraph(326, 50 + 14 * at, line, 29, 1, 10.5)
    shapes += [Line(326, 94, 350, 94, 4.0, 0.0, (5.0, 3.0)), Text(358, 98, words["swung_out"], 10)]
    return shapes, " ".join(in_words)


def _arms(mount: Mount) -> tuple[tuple[float, float], ...] | None:
    """The arm of a part of the head that swings to the side it stands on; None for any other, which is not drawn."""
    if mount.site in ("mouth", "chin"):
        return _ARMS["front"]
    return _ARMS["head_left"] if mount.site == f"head_{mount.swings}" else None


def _arm(hinge: tuple[float, float], end: tuple[float, float], out: tuple[float, float], tube: bool) -> list[Shape]:
    width = 3.5 if tube else 8.0
    start, stop = (math.atan2(hinge[1] - py, px - hinge[0]) for px, py in (end, out))
    r = math.dist(hinge, end) * 0.72
    turns = [start + (stop - start) * i / 10 for i in range(2, 9)]
    arc = [(hinge[0] + r * math.cos(a), hinge[1] - r * math.sin(a)) for a in turns]
    return [
        Line(*hinge, *out, min(width, 4.0), 0.0, (5.0, 3.0)),
        Line(*hinge, *end, width),
        Circle(*hinge, 6, fill=1.0, width=2.0),
        *arrow(arc, 1.8, 8),
        *arrow(list(reversed(arc))[-3:], 1.8, 8),
    ]
