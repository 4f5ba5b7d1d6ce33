"""From driving to rest and back: for each change the driver's command, what is heard, and what the chair then does."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.scene import Circle, Line, Rect, Scene, Shape
from docgen.figures.strokes import arrow, paragraph

_WIDTH, _ROW = 480.0, 62.0
_STATES = ("rest", "seat", "output", "drive")


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """One row a change, driving last; None when the case gives no such command."""
    changes = [command for state in _STATES for command in case.configuration.commands if command.does == state]
    if not changes:
        return None
    shapes: list[Shape] = []
    told: list[str] = []
    for at, command in enumerate(changes):
        y, state = _ROW * at + 4, words[f"state_{command.does}"]
        said = command.input[:1].upper() + command.input[1:].rstrip(". ")
        shapes += [*paragraph(4, y + 22, said, 36, 2, 11, bold=True), *arrow([(206, y + 26), (262, y + 26)], 2.6, 11)]
        shapes += [Rect(268, y + 2, 208, _ROW - 12, fill=1.0 if command.does == "drive" else 0.9, width=2.2 if command.does == "drive" else 1.0, radius=6)]
        shapes += [*paragraph(300, y + 20, state, 30, 1, 11, bold=True)]
        if command.hear:
            shapes += paragraph(300, y + 36, words["heard"].format(sound=command.hear.rstrip(". ")), 30, 1, 10.5)
        shapes += _sign(command.does, 283, y + 25)
        heard = f" {words['heard'].format(sound=command.hear.rstrip('. '))}." if command.hear else ""
        told.append(words["state_alt"].format(input=said, state=state) + heard)
    return Scene(_WIDTH, _ROW * len(changes), f"{words['rest_title']} {' '.join(told)}", tuple(shapes))


def _sign(state: str, x: float, y: float) -> list[Shape]:
    """An arrow for driving, two bars for rest, a ring for another job."""
    if state == "drive":
        return arrow([(x, y + 13), (x, y - 13)], 3.0, 11)
    if state == "rest":
        return [Line(x - 4, y - 9, x - 4, y + 9, 3.0), Line(x + 4, y - 9, x + 4, y + 9, 3.0)]
    return [Circle(x, y, 7, fill=1.0, width=2.0)]
