"""Back at its mark: the two marks in line, and the two marks apart; for a mount that swings, the swing before them."""

from __future__ import annotations

import math
from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.scene import Circle, Line, Poly, Rect, Scene, Shape, Text
from docgen.figures.strokes import arrow, paragraph

_PANEL, _HEIGHT = 160.0, 128.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """Two panels, three for a control that swings away; None when no part has a mark."""
    marks = [mount.mark for mount in case.configuration.mounting if mount.mark]
    if not marks:
        return None
    swings = any(feature.id == "swing_away_mount" for feature in case.configuration.features)
    shapes: list[Shape] = _swing(words) if swings else []
    left = _PANEL if swings else 0.0
    shapes += [*_marks(left, 0.0, words["marks_meet"], "ok"), *_marks(left + _PANEL, 13.0, words["marks_apart"], "no")]
    told = [words["swing_alt"]] if swings else []
    told.append(words["marks_alt"].format(marks="; ".join(dict.fromkeys(mark.rstrip(". ") for mark in marks))))
    return Scene(left + 2 * _PANEL, _HEIGHT, " ".join(told), tuple(shapes))


def _marks(x: float, off: float, label: str, sign: str) -> list[Shape]:
    """A joint of two bars, each with a line across; `off` is how far the lines are apart. A tick or a cross says which is right."""
    shapes: list[Shape] = [
        Rect(x + 26, 16, 48, 70, fill=0.75, radius=4),
        Rect(x + 74, 16 + off, 48, 70, fill=0.88, radius=4),
        Line(x + 40, 51, x + 74, 51, 4.0, 1.0), Line(x + 74, 51 + off, x + 108, 51 + off, 4.0, 1.0),
    ]
    if sign == "ok":
        shapes.append(Poly(((x + 130, 50), (x + 136, 58), (x + 150, 38)), closed=False, width=3.5))
    else:
        shapes += [Line(x + 132, 40, x + 148, 58, 3.5), Line(x + 148, 40, x + 132, 58, 3.5)]
    return [*shapes, *paragraph(x + 80, 110, label, 26, 2, 11, True, "middle")]


def _swing(words: Mapping[str, str]) -> list[Shape]:
    """The head from above and a part that turns about its hinge, out of the way and back."""
    hinge = (112.0, 84.0)
    arc = [(hinge[0] + 62 * math.cos(math.radians(a)), hinge[1] - 62 * math.sin(math.radians(a))) for a in range(168, 60, -12)]
    return [
        Circle(40, 56, 24, fill=0.94), Text(40, 60, words["head"], 9.5, anchor="middle"),
        Line(*hinge, 56, 64, 6.0, 0.55), Line(*hinge, hinge[0] + 34, hinge[1] - 56, 4.0, 0.55, (5.0, 3.0)),
        Circle(*hinge, 6, fill=0.0), *arrow(arc[1:], 1.8, 9), *arrow([(x + 8, y + 9) for x, y in reversed(arc[:-1])], 1.8, 9),
        *paragraph(80, 110, words["swing_panel"], 26, 2, 11, True, "middle"),
    ]
