"""The daily card in three pictures: the seat in its order, the gaps of this control, where and how it stops."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.gap_gauge import gap_words
from docgen.figures.scene import Circle, Line, Poly, Rect, Scene, Shape, Text
from docgen.figures.strokes import ON_CHAIR, chair_from_above, paragraph, ringed, span

_WIDTH, _HEIGHT, _PANEL = 486.0, 158.0, 158.0
_MOST_PARTS = 4


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene:
    """Three framed panels side by side."""
    panels = (_ready(4, words), _check(case, 4 + _PANEL + 2, words), _stop(case, 4 + 2 * (_PANEL + 2), words))
    shapes: list[Shape] = []
    for at, (name, (drawn, _)) in enumerate(zip(("card_ready", "card_check", "card_stop"), panels, strict=True)):
        left = 4 + at * (_PANEL + 2)
        shapes += [Rect(left, 2, _PANEL, _HEIGHT - 4, width=0.8, radius=5), Text(left + 8, 19, words[name], 12.5, True), *drawn]
    return Scene(_WIDTH, _HEIGHT, " ".join(alt for _, alt in panels), tuple(shapes))


def _ready(x: float, words: Mapping[str, str]) -> tuple[list[Shape], str]:
    """A seated person from the side, facing left, with the order of the seat in numbers."""
    drawn: list[Shape] = [
        Circle(x + 78, 116, 22, fill=0.9), Circle(x + 78, 116, 4, fill=0.0), Circle(x + 44, 130, 8, fill=0.9),  # wheels
        Poly(((x + 46, 98), (x + 106, 98), (x + 106, 104), (x + 46, 104)), fill=0.8),  # seat
        Poly(((x + 106, 98), (x + 114, 46), (x + 119, 46), (x + 112, 104)), fill=0.8),  # back
        Poly(((x + 46, 101), (x + 34, 138), (x + 20, 138)), closed=False, width=2.5),  # foot plate
        Line(x + 96, 90, x + 52, 90, 12, 0.72), Line(x + 52, 90, x + 40, 128, 10, 0.72), Line(x + 40, 130, x + 24, 132, 7, 0.72),
        Line(x + 98, 90, x + 104, 56, 15, 0.72), Circle(x + 102, 36, 12, fill=0.94),
        Line(x + 80, 82, x + 102, 98, 3.0),  # belt
    ]
    for number, (dx, dy) in enumerate(((122, 88), (74, 74), (16, 120), (126, 32)), 1):
        drawn += ringed(x + dx, dy, str(number))
    return drawn, words["card_ready_alt"]


def _check(case: Case, x: float, words: Mapping[str, str]) -> tuple[list[Shape], str]:
    """Each part with its gap; the words say so where none is recorded."""
    parts = [mount for mount in case.configuration.mounting if mount.gap_mm is not None][:_MOST_PARTS]
    if not parts:
        return [*paragraph(x + 8, 44, words["card_no_gaps"], 26, 3, 11, True)], words["card_no_gaps"]
    n_lines, step = (2, 40.0) if len(parts) < _MOST_PARTS else (1, 30.0)
    drawn: list[Shape] = []
    for at, part in enumerate(parts):
        y = 36.0 + step * at
        names = paragraph(x + 8, y, part.part, 25, n_lines, 10, True)
        y += 12 * (len(names) - 1) + 1
        drawn += [*names, *span(x + 10, y + 10, x + 10 + min(part.gap_mm or 0, 44), y + 10)]
        drawn.append(Text(x + 60, y + 14, gap_words(part.gap_mm or 0, words), 10.5))
    told = " ".join(words["pads_alt"].format(part=part.part, gap=gap_words(part.gap_mm or 0, words)) for part in parts)
    return drawn, f"{words['card_check_alt']} {told}"


def _stop(case: Case, x: float, words: Mapping[str, str]) -> tuple[list[Shape], str]:
    """The chair from above with the stop switch (A) and the power switch (B)."""
    stop = case.configuration.stop
    drawn: list[Shape] = list(chair_from_above(x + 55, 91, 0.66))
    told = [words["card_stop_alt"]]
    sites = (("A", "stop_switch", stop.stop_switch, stop.stop_switch_site), ("B", "power_off", stop.power_off, stop.power_off_site))
    for at, (letter, name, text, place) in enumerate(sites):
        for dx, dy in ON_CHAIR.get(place or "", ()):
            drawn += ringed(x + 55 + 0.66 * dx, 91 + 0.66 * dy, letter)
        drawn += [*ringed(x + 132, 46 + 50 * at, letter), Text(x + 132, 67 + 50 * at, words[f"card_{name}"], 10, True, "middle")]
        if text:
            told.append(words["stop_alt"].format(letter=letter, name=words[name], place=text.rstrip(". ")))
    return drawn, " ".join(told)
