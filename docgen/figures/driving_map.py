"""Which command moves the chair which way: for each way the chair from above with its arrow, beside the driver's
command; last what stops it."""

from __future__ import annotations

import math
from collections.abc import Mapping

from docgen.case.asked import COMBINED
from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.chair import chair_from_above
from docgen.figures.panels import LEAD, PANEL, bounds, composed, lettered, panel
from docgen.figures.rider import scaled
from docgen.figures.strokes import arrow, moved
from docgen.scene import Poly, Rect, Scene, Shape

MADE_FROM = ("configuration.commands",)

_MOVES = ("forward", "left", "right", "back", *COMBINED, "stop")
_SCALE, _ICON, _SHARE = 0.2, 42.0, 0.72  # of the chair; the room of a picture in points; of the size drawn here


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """One panel a movement that the case gives a command for; None when it gives none."""
    inputs: dict[str, str] = {}
    for command in case.configuration.commands:
        if command.does in _MOVES:
            before = inputs.get(command.does)
            inputs[command.does] = f"{before} / {command.input}" if before else command.input
    if not inputs:
        return None
    return composed([_move(move, inputs[move], words) for move in _MOVES if move in inputs])


def _move(move: str, command: str, words: Mapping[str, str]) -> Scene:
    """The picture of one movement beside its command."""
    does, command_words = words[f"moves_{move}"], command[:1].upper() + command[1:].rstrip(". ")
    picture = scaled(_stop_sign() if move == "stop" else [*chair_from_above(0, 0, _SCALE), *_way(move)], _SHARE)
    left, top, right, _ = bounds(picture)
    drawn = [Rect(0, 0, _ICON, 30, stroke=None), *moved(picture, 1, _ICON / 2 - (left + right) / 2, -top)]
    room = PANEL - _ICON - 12
    named, y = lettered(_ICON + 8, 13, does, room, True)
    lines, _ = lettered(_ICON + 8, y + 0.1 * LEAD, command_words, room)
    return panel([*drawn, *named, *lines], words["map_alt"].format(input=command_words, does=does), w=PANEL)


def _way(move: str) -> list[Shape]:
    """The arrow of a movement round the chair; a turn starts forward and ends to its side."""
    if move in ("forward", "back"):
        sign = -1 if move == "forward" else 1
        return arrow([(0, sign * 19), (0, sign * 39)], 3.0, 10)
    along = -1 if move in ("left", "right") or "forward" in move else 1
    side = -1 if move.endswith("left") else 1
    if move in COMBINED:
        return arrow([(side * 11, along * 20), (side * 24, along * 37)], 3.0, 10)
    turn = [(11 - 11 * math.cos(a), -20 - 11 * math.sin(a)) for a in (math.radians(d) for d in range(0, 91, 15))]
    return arrow([(side * x, y) for x, y in (*turn, (27.0, -31.0))], 3.0, 10)


def _stop_sign() -> list[Shape]:
    """An octagon, black."""
    corners = (math.radians(a) for a in range(22, 382, 45))
    return [Poly(tuple((18 * math.cos(a), 18 * math.sin(a)) for a in corners), fill=0.0)]
