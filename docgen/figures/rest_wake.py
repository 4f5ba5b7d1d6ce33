"""From driving to rest and back: for each change the driver's command, what the chair then does, and what is heard."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.strokes import arrow, n_lines_of, paragraph
from docgen.scene import Rect, Scene, Shape

MADE_FROM = ("configuration.commands",)

_WIDTH, _ROW, _SIZE = 480.0, 46.0, 11.0
_STATES = ("rest", "seat", "external_device", "drive")


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """One row a change, driving last with a heavy frame; None when the case gives no such command."""
    changes = [command for state in _STATES for command in case.configuration.commands if command.does == state]
    if not changes:
        return None
    shapes: list[Shape] = []
    changes_told: list[str] = []
    for at, command in enumerate(changes):
        middle, state = _ROW * at + _ROW / 2, words[f"state_{command.does}"]
        action = command.input[:1].upper() + command.input[1:].rstrip(". ")
        heard = words["heard"].format(sound=command.hear.rstrip(". ")) if command.hear else ""
        drives = command.does == "drive"
        up = 0.6 * _SIZE * (n_lines_of(action, 36, 2) - 1)
        shapes += [
            *paragraph(4, middle + 4 - up, action, 36, 2, _SIZE, bold=True),
            *arrow([(212, middle), (262, middle)], 2.6, 11),
        ]
        shapes += [
            Rect(268, middle - 20, 208, 40, fill=1.0 if drives else 0.92, width=2.2 if drives else 1.0, radius=6)
        ]
        shapes += paragraph(280, middle + (-4 if heard else 4), state, 33, 1, _SIZE, bold=True)
        if heard:
            shapes += paragraph(280, middle + 13, heard, 36, 1, 10.5)
        changes_told.append(words["state_alt"].format(input=action, state=state) + (f" {heard}." if heard else ""))
    return Scene(_WIDTH, _ROW * len(changes), f"{words['rest_title']} {' '.join(changes_told)}", tuple(shapes))
