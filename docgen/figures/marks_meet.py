"""Back at its mark: for each kind of mark of the record how it looks when it is right and when it is wrong; before them
each part that swings."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial

from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.evidence.fact import Evidence
from docgen.figures.outlines import FOOT
from docgen.figures.panels import Told, bounds, broken, composed, lettered, listed, panel, stacked
from docgen.figures.rider import scaled
from docgen.figures.strokes import arrow, moved, oval, right, ringed, turned, wrong
from docgen.fit.feature import features
from docgen.scene import LETTERS_PT, Circle, Line, Poly, Rect, Scene, Shape, Text

MADE_FROM = ("configuration.mounting",)

_KINDS = ("lines", "edge", "outline")
_OFF = 11.0  # how far a wrong mark is off
_SHORT = 48.0  # a word beside its sign
_ROOM, _SHARE, _SIGN_Y = 120.0, 0.62, 45.0  # two kinds stand in a column; of the size drawn here; of right and wrong
_SWUNG = 0.88  # of the size drawn here, head and arms that swing
_HINGE_OFF_DEG = 20.0  # how far the arm of a hinge is turned where its marks are apart

Numbered = tuple[int, Mount]


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The parts that swing, then right and wrong of each kind of mark; None when the record holds neither."""
    mounts = list(enumerate(case.configuration.mounting, 1))
    panels: list[Scene] = []
    if mounts and _swings_away(case):
        panels += _swing([(number, mount) for number, mount in mounts if mount.swings], words)
    panels += [_marks(kind, alike, words) for kind, alike in _marked_alike(mounts)]
    if toes := [
        (number, mount) for number, mount in mounts if mount.mark_kind and mount.body_mark and mount.site == "foot"
    ]:
        panels.append(_marks("toe", toes, words))
    return composed(panels) if panels else None


def _marked_alike(mounts: Sequence[Numbered]) -> Iterator[tuple[str, list[Numbered]]]:
    """Each kind of mark that the record holds and its parts; lines over a hinge are a kind of their own."""
    for kind in _KINDS:
        marked = [(number, mount) for number, mount in mounts if mount.mark and mount.mark_kind == kind]
        for hinged in (True, False):
            if alike := [
                (number, mount) for number, mount in marked if (kind == "lines" and bool(mount.swings)) == hinged
            ]:
                yield "hinge" if hinged else kind, alike


def _marks(kind: str, marked: Sequence[Numbered], words: Mapping[str, str]) -> Scene:
    """Right and wrong of one kind of mark under its name and the parts that have it, so that each is read with its
    picture; in the words of the record for whoever does not see it."""
    drawings: dict[str, Callable[[float, float], list[Shape]]] = {
        "hinge": _hinge,
        "lines": _lines,
        "edge": _edge,
        "toe": _toe,
        "outline": partial(_outline, _shoe() if all(mount.site == "foot" for _, mount in marked) else _hand()),
    }
    meets, apart = ("outline_meets", "outline_apart") if kind == "outline" else ("marks_meet", "marks_apart")
    names: dict[str, list[str]] = {}
    for number, mount in marked:
        mark = mount.body_mark if kind == "toe" else mount.mark
        names.setdefault((mark or "").rstrip(". "), []).append(f"{number}. {mount.part}")
    shapes, y = lettered(0.0, 12.0, words[f"mark_{kind}"], _ROOM, True)
    for parts in names.values():
        for part in parts:
            lines, y = lettered(0.0, y, part, _ROOM)
            shapes += lines
    for x, off, sign, word in ((0.0, 0.0, right, words[meets]), (_ROOM / 2 + 4, _OFF, wrong, words[apart])):
        shapes += moved(scaled(drawings[kind](0.0, off), _SHARE), 1, x, y - 6)
        # a word that would reach into the other drawing stands below its sign, in its own half
        is_short = broken(word, _SHORT, True) == [word]
        right_of, below = (x + 23, _SIGN_Y + 4) if is_short else (x, _SIGN_Y + 22)
        lines, _ = lettered(right_of, y + below, word, _ROOM / 2, True)
        shapes += [*sign(x + 10, y + _SIGN_Y), *lines]
    alt = words["marks_alt"].format(marks="; ".join(f"{', '.join(parts)}: {mark}" for mark, parts in names.items()))
    return panel(shapes, f"{words[f'mark_{kind}']}: {words[meets]}, {words[apart]}. {alt}")


def _swings_away(case: Case) -> bool:
    """Whether a requested feature swings out of the way."""
    known = features()
    return any("swing" in known[asked.id].kinds for asked in case.configuration.features if asked.id in known)


def _hinge(x: float, off: float) -> list[Shape]:
    """The arm of a part on its hinge, a line on each side of the joint; the arm is turned where they are apart."""
    arm: list[Shape] = [Rect(0, -13, 44, 26, fill=0.8, radius=4), Line(9, 0, 34, 0, 5.0)]
    return [
        Rect(x, 21, 42, 26, fill=0.94, radius=4),
        *moved(turned(arm, _HINGE_OFF_DEG if off else 0.0), 1, x + 42, 34),
        Circle(x + 42, 34, 8, fill=1.0, width=1.6),
        Line(x + 9, 34, x + 33, 34, 5.0),
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


def _toe(x: float, off: float) -> list[Shape]:
    """The front of a shoe from above on a plate with a line that its tip meets."""
    shoe = ((16, 54), (15, 40), (20, 28), (30, 23), (44, 22), (56, 26), (62, 36), (61, 54))
    return [
        Rect(x, 4, 84, 50, fill=0.94, radius=4),
        Line(x + 4, 20, x + 80, 20, 5.0),
        Poly(tuple((x + px, min(py + off * 1.2, 54.0)) for px, py in shoe), fill=0.7, width=1.6),
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
    "head_left": ((-42.0, 34.0), (-42.0, -4.0), (-82.0, 34.0)),
    "front": ((-62.0, 10.0), (0.0, -42.0), (-134.0, -20.0)),
}


def _swing(swinging: Sequence[Numbered], words: Mapping[str, str]) -> list[Scene]:
    """The head from above and each part that the record says to swing, in place and, dashed, swung out of the way; then
    which way each goes and what holds it."""
    ways = [
        listed(
            str(number),
            [Told(words[f"swings_{mount.swings}"].format(part=mount.part), True), Told(_catch(mount))],
            words[f"swings_{mount.swings}"].format(part=mount.part),
        )
        for number, mount in swinging
    ]
    drawn = [(number, mount, arms) for number, mount in swinging if (arms := _arms(mount))]
    if not drawn:
        return ways or [listed("", [Told(words["swing_unknown"], True)], words["swing_unknown"])]
    head: list[Shape] = [
        Poly(((-6, -24), (0, -33), (6, -24)), fill=0.95),
        oval(-28, 4, 4, 6),
        oval(28, 4, 4, 6),
        oval(0, 0, 27, 28, fill=0.95),
    ]
    shapes = [*scaled(head, _SWUNG), Text(0, 4, words["head"], LETTERS_PT, anchor="middle")]
    for number, mount, (hinge, end, out) in drawn:
        sign = 1 if mount.swings == "left" else -1
        tube = mount.site in ("mouth", "chin")
        arm = scaled(_arm(hinge, end, out, tube), _SWUNG)
        shapes += moved([*arm, *ringed(hinge[0] * _SWUNG, hinge[1] * _SWUNG + 18, str(number))], sign)
    left, _, _, bottom = bounds(shapes)
    shapes += [
        Line(left, bottom + 12, left + 24, bottom + 12, 4.0, 0.0, (5.0, 3.0)),
        Text(left + 30, bottom + 16, words["swung_out"], LETTERS_PT),
    ]
    return [panel(shapes, words["swing_alt"], words["swing_panel"], leads=True), stacked(ways, 2.0)]


def _catch(mount: Mount) -> str:
    """How far the part swings and what holds it, as the record says it; empty where it does not."""
    return f"{mount.swing[:1].upper()}{mount.swing[1:].rstrip('. ')}." if mount.swing else ""


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
