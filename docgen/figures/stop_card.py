"""How to stop it at one glance: the chair from above with the letter of each switch, and what each letter is."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.chair import chair_from_above, has_tray, switches
from docgen.figures.stop_sites import switches_of
from docgen.figures.strokes import arrow, paragraph, ringed
from docgen.scene import Circle, Scene, Shape, Text

MADE_FROM = ("configuration.stop", "sitting.seat_switch")

_WIDTH, _X, _Y, _SCALE = 250.0, 125.0, 122.0, 1.1
_LINE, _COLUMN = 17.0, 127.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The chair, and below it the name of each letter; None when no switch is described."""
    there = switches_of(case)
    if not there:
        return None
    sites = [(letter, kind, place) for letter, kind, _, _, place in there]
    lettered = switches(_X, _Y, _SCALE, sites)
    shapes: list[Shape] = [
        *chair_from_above(_X, _Y, _SCALE, has_tray(sites)),
        Text(_X + 12, 14, words["front"], 12, True),
        *arrow([(_X, 22), (_X, 4)], 2.4, 9),
        *lettered,
    ]
    alt = [words["stop_title"]]
    y = max(_Y + 104, *(shape.y for shape in lettered if isinstance(shape, Circle))) + 24
    for letter, _, name, text, place in there:
        named = paragraph(24, y + 4, words[name], 40, 1, 12, True)
        shapes += [*ringed(10, y, letter), *named]
        if place is None:
            shapes += paragraph(_COLUMN, y + 4, words["no_site"], 24, 2, 12)
            y += _LINE
        alt.append(words["stop_alt"].format(letter=letter, name=words[name], place=text.rstrip(". ")))
        if place is None:
            alt.append(f"{words['no_site']}.")
        y += _LINE
    return Scene(_WIDTH, y - 6, " ".join(alt), tuple(shapes))
