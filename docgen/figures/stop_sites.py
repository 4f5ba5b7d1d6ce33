"""Where to stop the chair: the chair from above, with a letter at each switch and lever the case places on it."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.scene import Scene, Shape, Text
from docgen.figures.strokes import ON_CHAIR, chair_from_above, paragraph, ringed

_WIDTH, _HEIGHT = 480.0, 206.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The chair and what each letter stands for; None when no switch is described."""
    stop = case.configuration.stop
    sites = [
        (letter, words[name], text, place) for letter, name, text, place in (
            ("A", "stop_switch", stop.stop_switch, stop.stop_switch_site),
            ("B", "power_off", stop.power_off, stop.power_off_site),
            ("C", "roll_levers", stop.freewheel, stop.freewheel_site),
        ) if text
    ]
    if not sites:
        return None
    x, y = 106.0, 108.0
    shapes: list[Shape] = [*chair_from_above(x, y), Text(x, 12, words["front"], 10.5, True, "middle")]
    for letter, _, _, place in sites:
        for dx, dy in ON_CHAIR.get(place or "", ()):
            shapes += ringed(x + dx, y + dy, letter)
    for at, (letter, name, text, _) in enumerate(sites):
        top = 40.0 + 58 * at
        shapes += [*ringed(216, top - 4, letter), Text(234, top, name, 11.5, True), *paragraph(234, top + 15, text, 44, 2, 11)]
    told = " ".join(words["stop_alt"].format(letter=letter, name=name, place=text.rstrip(". ")) for letter, name, text, _ in sites)
    return Scene(_WIDTH, _HEIGHT, f"{words['stop_title']} {told}", tuple(shapes))
