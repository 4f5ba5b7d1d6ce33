"""Which command moves the chair which way: the chair from above in the middle, an arrow and the driver's command on each side."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.scene import Rect, Scene, Shape, Text
from docgen.figures.strokes import arrow, chair_from_above, paragraph

_WIDTH = 480.0
_X, _Y = 240.0, 116.0
_MOVES = ("forward", "left", "right", "back", "stop")


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """One arrow per movement the case gives a command for; None when it gives none."""
    inputs: dict[str, str] = {}
    for command in case.configuration.commands:
        if command.does in _MOVES:
            before = inputs.get(command.does)
            inputs[command.does] = f"{before} / {command.input}" if before else command.input
    if not inputs:
        return None
    bottom = _Y + (100.0 if "back" in inputs else 54.0)
    shapes: list[Shape] = [*chair_from_above(_X, _Y, 0.55)]
    for move, text in inputs.items():
        shapes += _drawn(move, words[f"moves_{move}"], text, bottom)
    told = " ".join(words["map_alt"].format(input=_capital(inputs[move]), does=words[f"moves_{move}"]) for move in _MOVES if move in inputs)
    return Scene(_WIDTH, bottom + (40 if "stop" in inputs else 6), f"{words['map_title']} {told}", tuple(shapes))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(". ")


def _drawn(move: str, does: str, text: str, bottom: float) -> list[Shape]:
    said = _capital(text)
    match move:
        case "forward":
            return [*arrow([(_X, _Y - 52), (_X, _Y - 82)], 3.5, 13), Text(_X + 14, 26, does, 11.5, True), *paragraph(_X + 14, 40, said, 38, 2, 11)]
        case "back":
            return [*arrow([(_X, _Y + 52), (_X, _Y + 82)], 3.5, 13),
                    Text(_X + 14, _Y + 70, does, 11.5, True), *paragraph(_X + 14, _Y + 84, said, 38, 2, 11)]
        case "left":
            return [*arrow([(_X - 42, _Y - 8), (_X - 68, _Y - 14), (_X - 82, _Y + 8)], 3.5, 13),
                    Text(_X - 94, _Y - 8, does, 11.5, True, "end"), *paragraph(_X - 94, _Y + 6, said, 25, 3, 11, anchor="end")]
        case "right":
            return [*arrow([(_X + 42, _Y - 8), (_X + 68, _Y - 14), (_X + 82, _Y + 8)], 3.5, 13),
                    Text(_X + 94, _Y - 8, does, 11.5, True), *paragraph(_X + 94, _Y + 6, said, 25, 3, 11)]
    return [Rect(8, bottom + 9, 12, 12, fill=0.0), Text(28, bottom + 20, does, 11.5, True), *paragraph(28, bottom + 34, said, 80, 1, 11)]
