"""The gap of each part at life size, to compare by eye: before them a bar that proves that the page was printed at life
size, and where on a part a gap is measured.

On a screen nothing has its true size; the words beside each bar hold there too.
"""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.evidence.fact import Evidence
from docgen.figures.panels import Told, composed, listed, panel
from docgen.figures.strokes import right, span, wrong
from docgen.scene import Line, Poly, Rect, Scene, Shape
from docgen.units import MM_PER_INCH, inches

MADE_FROM = ("configuration.mounting",)

_POINTS_PER_MM = 72 / MM_PER_INCH
_MOST_MM = 70.0  # a wider gap does not fit beside its words
_BAR_MM, _STEP_MM = 50, 10
_BODY, _PART, _HIGH = 12.0, 12.0, 26.0  # widths and height of what a gap is drawn between, in points
_WORDS, _BAR_WORDS = 156.0, 101.0  # width of the words beside a gap and beside the bar


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The bar, how to measure, then one row a part with a gap of up to 70 mm; None when there is none."""
    parts = [
        (number, mount)
        for number, mount in enumerate(case.configuration.mounting, 1)
        if mount.gap_mm is not None and mount.gap_mm <= _MOST_MM
    ]
    if not parts:
        return None
    panels = [*_bar(words), *_measured(words)]
    widest = max(part.gap_mm or 0 for _, part in parts) * _POINTS_PER_MM + _BODY + _PART + 6
    for number, part in parts:
        panels += _at_true_size(number, part, widest, words)
    return composed(panels)


def _bar(words: Mapping[str, str]) -> list[Scene]:
    """A bar to hold a ruler to, in steps of 10 mm."""
    end = _BAR_MM * _POINTS_PER_MM
    ticks = [mm * _POINTS_PER_MM for mm in range(0, _BAR_MM + 1, _STEP_MM)]
    bar: list[Shape] = [
        *span(0, 0, end, 0),
        *(Line(x, -6, x, 6, 0.9) for x in ticks[1:-1]),
        Rect(0, -9, end, 18, stroke=None),
    ]
    lines = [Told(words["gauge_bar"], True), Told(words["gauge_bar_size"])]
    return [
        panel(bar, words["gauge_title"], true_size=True, leads=True),
        listed("", lines, words["gauge_bar_alt"], w=_BAR_WORDS),
    ]


def _measured(words: Mapping[str, str]) -> list[Scene]:
    """Where a gap is measured: where body and part are closest, not at an edge of the part."""
    pair: list[Shape] = []
    for x, y in ((0.0, 0.0), (96.0, -16.0)):
        body = Poly(tuple((x + 26 - 0.028 * dy * dy, float(dy)) for dy in range(-22, 23, 4)), fill=0.95)
        pair += [body, Rect(x + 46, -20, _PART, 40, fill=0.7, radius=3)]
        pair += span(x + 26 - 0.028 * y * y, y, x + 46, y)
    pair += [*right(74, 0), *wrong(170, 0)]
    return [panel(pair, words["gauge_where_alt"], words["gauge_where"], leads=True)]


def _at_true_size(number: int, part: Mount, w: float, words: Mapping[str, str]) -> list[Scene]:
    """The gap of one part between body, white, and part, gray, on a panel w points wide; its words beside it."""
    at = (part.gap_mm or 0) * _POINTS_PER_MM
    drawn: list[Shape] = [
        Rect(-_BODY, 0, _BODY, _HIGH, fill=1.0),
        Rect(at, 0, _PART, _HIGH, fill=0.55, radius=2),
        *span(0, _HIGH / 2, at, _HIGH / 2),
    ]
    lines = [Told(part.part, True), Told(unbroken(gap_words(part.gap_mm or 0, words)))]  # the card has its range
    shown = words["gauge_alt"].format(part=f"{number}, {part.part}")
    return [
        panel(drawn, shown, true_size=True, leads=True, w=w),
        listed(str(number), lines, gap_alt(number, part, words), w=_WORDS),
    ]


def with_range(part: Mount, gap: str, words: Mapping[str, str]) -> str:
    """The gap, with its range in mm where the therapist set one."""
    if part.gap_from_mm is None or part.gap_to_mm is None:
        return gap
    least, most = (number_mm(mm, words) for mm in (part.gap_from_mm, part.gap_to_mm))
    return words["card_range"].format(gap=gap, least=least, most=most)


def gap_alt(number: int, part: Mount, words: Mapping[str, str]) -> str:
    """The gap of a part in a sentence, for who cannot see it drawn."""
    gap = with_range(part, gap_words(part.gap_mm or 0, words), words)
    return words["gauge_said"].format(number=number, part=part.part, gap=gap)


def unbroken(text: str) -> str:
    """The text with a line's end only after a comma."""
    return ", ".join(part.replace(" ", "\u00a0") for part in text.split(", "))


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
