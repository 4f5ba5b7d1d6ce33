"""Which command moves the chair which way: the chair from above, an arrow and the driver's command for each way, and
what stops it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Literal

from docgen.case.asked import COMBINED
from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.chair import chair_from_above
from docgen.figures.strokes import arrow, paragraph
from docgen.scene import Poly, Rect, Scene, Shape, Text

MADE_FROM = ("configuration.commands",)

_WIDTH = 480.0
_X, _Y = 240.0, 130.0
_MOVES = ("forward", "left", "right", "back", *COMBINED, "stop")
_LINE = 15.0  # from one line of a combined command to the next


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """One arrow per movement the case gives a command for; None when it gives none."""
    inputs: dict[str, str] = {}
    for command in case.configuration.commands:
        if command.does in _MOVES:
            before = inputs.get(command.does)
            inputs[command.does] = f"{before} / {command.input}" if before else command.input
    if not inputs:
        return None
    bottom = _Y + (92.0 if "back" in inputs else 56.0)
    shapes: list[Shape] = [*chair_from_above(_X, _Y, 0.55)]
    for move in COMBINED:  # two ways at once have no arrow of their own: each is a line below the chair
        if move in inputs:
            bottom += _LINE
            line = words["map_alt"].format(input=_capital(inputs[move]), does=words[f"moves_{move}"])
            shapes += paragraph(1, bottom, line, 92, 1, 11)
    for move, text in inputs.items():
        if move not in COMBINED:
            shapes += _drawn(move, words[f"moves_{move}"], text, bottom)
    commands = " ".join(
        words["map_alt"].format(input=_capital(inputs[move]), does=words[f"moves_{move}"])
        for move in _MOVES
        if move in inputs
    )
    return Scene(_WIDTH, bottom + (56 if "stop" in inputs else 6), f"{words['map_title']} {commands}", tuple(shapes))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(". ")


def _drawn(move: str, does: str, text: str, bottom: float) -> list[Shape]:
    sentence = _capital(text)
    match move:
        case "forward":
            return [
                *arrow([(_X, _Y - 54), (_X, _Y - 82)], 3.5, 13),
                Text(_X, 14, does, 11.5, True, "middle"),
                *paragraph(_X, 28, sentence, 56, 2, 11, anchor="middle"),
            ]
        case "back":
            return [
                *arrow([(_X, _Y + 52), (_X, _Y + 82)], 3.5, 13),
                Text(_X + 14, _Y + 62, does, 11.5, True),
                *paragraph(_X + 14, _Y + 75, sentence, 38, 2, 11),
            ]
        case "left" | "right":
            anchor: Literal["start", "end"] = "end" if move == "left" else "start"
            sign = -1 if move == "left" else 1
            return [
                *_turn(sign),
                Text(_X + sign * 100, _Y - 68, does, 11.5, True, anchor),
                *paragraph(_X + sign * 100, _Y - 54, sentence, 25, 3, 11, anchor=anchor),
            ]
    return [
        Rect(1, bottom + 8, _WIDTH - 2, 44, radius=5),
        _stop_sign(24, bottom + 30),
        Text(46, bottom + 26, does, 11.5, True),
        *paragraph(46, bottom + 42, sentence, 78, 1, 11),
    ]


def _turn(sign: int) -> list[Shape]:
    """A quarter of a circle that starts forward beside the footplates and ends to that side."""
    x, y, r = _X + sign * 74, _Y - 34, 46.0
    return arrow(
        [(x - sign * r * math.cos(a), y - r * math.sin(a)) for a in (math.radians(d) for d in range(0, 91, 10))]
        + [(x + sign * 14, y - r)],
        3.5,
        13,
    )


def _stop_sign(x: float, y: float) -> Poly:
    return Poly(
        tuple((x + 12 * math.cos(math.radians(a)), y + 12 * math.sin(math.radians(a))) for a in range(22, 382, 45)),
        fill=0.0,
    )
