"""The gap of each part at life size, to compare by eye, with a bar to prove that the page was printed at life size."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.lettering import two_lines
from docgen.figures.scene import Line, Rect, Scene, Shape, Text
from docgen.figures.strokes import span

_POINTS_PER_MM = 72 / 25.4
_WIDTH, _LEFT, _ROW = 480.0, 160.0, 34.0
_MOST_MM = 70.0  # a wider gap does not fit beside its words
_BAR_MM = 50.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """One row a part with a gap of up to 70 mm; None when there is none."""
    parts = [mount for mount in case.configuration.mounting if mount.gap_mm is not None and mount.gap_mm <= _MOST_MM]
    if not parts:
        return None
    shapes: list[Shape] = []
    for at, part in enumerate(parts):
        y, right = 4 + _ROW * at, _LEFT + (part.gap_mm or 0) * _POINTS_PER_MM
        names = two_lines(part.part, 23)
        shapes += [Text(_LEFT - 20, y + 17 + 12 * i - 6 * (len(names) - 1), name, 10.5, True, "end") for i, name in enumerate(names)]
        shapes += [Rect(_LEFT - 12, y, 12, 26, fill=0.94), Rect(right, y, 12, 26, fill=0.55, radius=2), *span(_LEFT, y + 13, right, y + 13)]
        shapes.append(Text(right + 20, y + 17, gap_words(part.gap_mm or 0, words), 10.5))
    y = 4 + _ROW * len(parts) + 16
    end = _LEFT + _BAR_MM * _POINTS_PER_MM
    shapes += [*span(_LEFT, y, end, y), *(Line(x, y - 3, x, y, 0.8) for x in (_LEFT + at * (end - _LEFT) / 5 for at in range(1, 5)))]
    shapes += [Text(_LEFT - 20, y + 4, words["gauge_bar"], 10.5, anchor="end"), Text(end + 20, y + 4, gap_words(_BAR_MM, words), 10.5)]
    told = " ".join(words["pads_alt"].format(part=part.part, gap=gap_words(part.gap_mm or 0, words)) for part in parts)
    return Scene(_WIDTH, y + 16, f"{words['gauge_title']} {told}", tuple(shapes))


def gap_words(gap_mm: float, words: Mapping[str, str]) -> str:
    """The gap in mm and inches."""
    return words["gap"].format(mm=f"{gap_mm:g}", inches=f"{gap_mm / 25.4:.1f}")
