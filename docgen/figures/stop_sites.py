"""Where to stop the chair: the chair from above, each switch and lever that the case places on it, and its letter."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.chair import chair_from_above, has_tray, switches, symbol
from docgen.figures.strokes import arrow, paragraph, ringed
from docgen.scene import Scene, Shape, Text

MADE_FROM = ("configuration.stop", "sitting.seat_switch")

_WIDTH, _HEIGHT = 482.0, 316.0
_X, _Y, _SCALE, _KEY = 140.0, 176.0, 1.5, 282.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The chair and what each letter stands for; None when no switch is described."""
    switches_there = [(letter, kind, words[name], text, place) for letter, kind, name, text, place in switches_of(case)]
    if not switches_there:
        return None
    sites = [(letter, kind, place) for letter, kind, _, _, place in switches_there]
    shapes: list[Shape] = [
        *chair_from_above(_X, _Y, _SCALE, has_tray(sites)),
        *_named(words, has_tray(sites)),
        *switches(_X, _Y, _SCALE, sites),
    ]
    # five or more stand closer, unless one needs a line more to say that its place is not recorded
    apart = 59 if len(switches_there) > 4 and all(place for _, _, place in sites) else 74
    alt = [words["stop_title"]]
    close = len(switches_there) > 5  # then each takes only the lines it has
    top, below = 30.0, 30.0
    for letter, kind, name, text, place in switches_there:
        top = below
        shapes += [
            *ringed(_KEY + 9, top - 4, letter),
            *symbol(kind, _KEY + 30, top - 4),
            Text(_KEY + 44, top, name, 12, True),
        ]
        lines = paragraph(_KEY, top + (17 if close else 20), text, 36, 3, 11)
        shapes += lines
        alt.append(words["stop_alt"].format(letter=letter, name=name, place=text.rstrip(". ")))
        if place is None:
            shapes += paragraph(
                _KEY, top + (17 + 12.5 * len(lines) if close else 57), words["no_site"], 38, 1, 10.5, True
            )
            alt.append(f"{words['no_site']}.")
        below = top + (20 + 12.5 * len(lines) + (0 if place else 14) if close else apart)
    height = max(_HEIGHT + (12.0 if close else 0.0), below - 10.0)
    return Scene(_WIDTH, height, " ".join(alt), tuple(shapes))


def switches_of(case: Case) -> list[tuple[str, str, str, str, str | None]]:
    """Each switch and lever that the case describes: its letter, kind, name among the words of figures, where it is in
    words, and its place on the chair, None where that is not recorded."""
    stop, sitting = case.configuration.stop, case.sitting
    return [
        (letter, kind, name, text, place)
        for letter, kind, name, text, place in (
            ("A", "stop", "stop_switch", *stop.at_hand),
            ("B", "power", "power_off", stop.power_off, stop.power_off_site),
            ("C", "lever", "roll_levers", stop.freewheel, stop.freewheel_site),
            ("D", "plug", "other_way", stop.other_way, stop.other_way_site),
            ("E", "stop", "drivers_own", *stop.drivers_own),
            ("F", "lever", "drive_off", stop.drive_off, stop.drive_off_site),
            ("G", "power", "seat_switch", sitting.seat_switch, sitting.seat_switch_site),
        )
        if text
    ]


def _named(words: Mapping[str, str], tray: bool) -> list[Shape]:
    """The front, and the parts of the chair that a helper looks for."""
    return [
        Text(_X, 12, words["front"], 12, True, "middle"),
        *arrow([(_X, 38), (_X, 18)], 2.6, 11),
        Text(_X - 37 * _SCALE, _Y - 72 * _SCALE, words["footplates"], 10, anchor="end"),
        Text(_X - 69 * _SCALE, _Y - 12 * _SCALE, words["wheel"], 10, anchor="end"),
        Text(_X, _Y + 72 * _SCALE, words["push_handles"], 10, anchor="middle"),
        *([Text(_X, _Y - 35 * _SCALE, words["tray"], 10, anchor="middle")] if tray else []),
    ]
