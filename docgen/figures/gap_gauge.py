"""The gap of each part at life size, to compare by eye, with a bar to prove that the page was printed at life size."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.lettering import two_lines
from docgen.figures.strokes import span
from docgen.scene import Line, Rect, Scene, Shape, Text
from docgen.units import MM_PER_INCH, inches

MADE_FROM = ("configuration.mounting",)

_POINTS_PER_MM = 72 / MM_PER_INCH
_WIDTH, _LEFT, _ROW, _TOP = 486.0, 160.0, 34.0, 24.0
_MOST_MM = 70.0  # a wider gap does not fit beside its words
_BAR_MM, _STEP_MM = 50, 10


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """One row a part with a gap of up to 70 mm; None when there is none."""
    parts = [mount for mount in case.configuration.mounting if mount.gap_mm is not None and mount.gap_mm <= _MOST_MM]
    if not parts:
        return None
    shapes: list[Shape] = [
        Text(_LEFT - 20, 14, words["gauge_true"], 10.5, True, "end"),
        Rect(_LEFT - 12, 5, 12, 12, fill=1.0),
        Text(_LEFT + 6, 14, words["gauge_body"], 10.5),
        Rect(_LEFT + 92, 5, 12, 12, fill=0.55, radius=2),
        Text(_LEFT + 110, 14, words["gauge_part"], 10.5),
        *span(_LEFT + 196, 11, _LEFT + 222, 11),
        Text(_LEFT + 230, 14, words["gauge_gap"], 10.5),
    ]
    for at, part in enumerate(parts):
        y, right = _TOP + 4 + _ROW * at, _LEFT + (part.gap_mm or 0) * _POINTS_PER_MM
        names = two_lines(part.part, 23)
        shapes += [
            Text(_LEFT - 20, y + 17 + 12 * i - 6 * (len(names) - 1), name, 10.5, True, "end")
            for i, name in enumerate(names)
        ]
        shapes += [
            Rect(_LEFT - 12, y, 12, 26, fill=1.0),
            Rect(right, y, 12, 26, fill=0.55, radius=2),
            *span(_LEFT, y + 13, right, y + 13),
        ]
        shapes.append(Text(right + 15, y + 17, gap_words(part.gap_mm or 0, words), 10))
    y = _TOP + 4 + _ROW * len(parts) + 16
    end = _LEFT + _BAR_MM * _POINTS_PER_MM
    marks = [(mm, _LEFT + mm * _POINTS_PER_MM) for mm in range(0, _BAR_MM + 1, _STEP_MM)]
    shapes += [*span(_LEFT, y, end, y), *(Line(x, y - 3, x, y, 0.8) for _, x in marks[1:-1])]
    shapes += [Text(x, y + 14, str(mm), 9, anchor="middle") for mm, x in marks]
    shapes += [
        Text(_LEFT - 20, y + 4, words["gauge_bar"], 10.5, anchor="end"),
        Text(end + 20, y + 4, words["gauge_bar_size"], 10.5),
    ]
    gaps = " ".join(words["pads_alt"].format(part=part.part, gap=gap_words(part.gap_mm or 0, words)) for part in parts)
    return Scene(_WIDTH, y + 22, f"{words['gauge_title']} {gaps}", tuple(shapes))


def gap_words(gap_mm: float, words: Mapping[str, str]) -> str:
    """The gap in mm and inches."""
    return words["gap"].format(**in_both(gap_mm, words))


def in_mm(size_mm: float, words: Mapping[str, str]) -> str:
    """A size in mm alone, where an inch scale is too coarse for it."""
    return f"{number_mm(size_mm, words)} mm"


def number_mm(size_mm: float, words: Mapping[str, str]) -> str:
    """The number of a size in mm, with the decimal sign of the language."""
    return f"{size_mm:g}".replace(".", words["decimal"])


def in_both(size_mm: float, words: Mapping[str, str]) -> dict[str, str]:
    """A size in mm, with the decimal sign of the language, and in inches."""
    return {"mm": number_mm(size_mm, words), "inches": inches(size_mm)}
