"""The stages of training as steps: those behind in grey, the one to train at in black, those ahead open."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from docgen.case.model import Case
from docgen.case.stage import STAGES
from docgen.evidence.fact import Evidence
from docgen.evidence.training import stage_now
from docgen.figures.lettering import two_lines
from docgen.scene import Line, Rect, Scene, Shape, Text

MADE_FROM = ("training.stage",)

_WIDTH, _STEP_W, _STEP_H, _TOP = 470.0, 51.0, 15.0, 26.0
_BEHIND, _HERE, _AHEAD = 0.75, 0.0, 1.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, Any]) -> Scene | None:
    """One step a stage, from left to right and upwards; None without a stage to train at."""
    now = stage_now(case)
    if now is None:
        return None
    names, n = words["ladder_names"], len(STAGES)
    floor = _TOP + _STEP_H * n
    left = (_WIDTH - _STEP_W * n) / 2
    shapes: list[Shape] = [Line(left, floor, left + _STEP_W * n, floor, 0.8)]
    for place in range(n):
        shade = _BEHIND if place < now else _HERE if place == now else _AHEAD
        shapes += _step(place, left + _STEP_W * place, floor, shade, names[place])
    x = left + _STEP_W * (now + 0.5)
    shapes.append(
        Text(min(max(x, 30.0), _WIDTH - 30.0), floor - _STEP_H * (now + 1) - 6, words["ladder_here"], 9, True, "middle")
    )
    behind = words["ladder_behind"].format(names=", ".join(names[:now])) if now else ""
    ahead = words["ladder_ahead"].format(names=", ".join(names[now + 1 :])) if now + 1 < n else ""
    alt = " ".join(filter(None, [words["ladder_title"].format(stage=now, name=names[now]), behind, ahead]))
    return Scene(_WIDTH, floor + 26, alt, tuple(shapes))


def _step(place: int, x: float, floor: float, shade: float, name: str) -> list[Shape]:
    height = _STEP_H * (place + 1)
    ink = 1.0 if shade == _HERE else 0.0
    lines = two_lines(name, 11)
    return [
        Rect(x, floor - height, _STEP_W, height, fill=shade),
        Text(x + _STEP_W / 2, floor - height + 11.5, str(place), 9, True, "middle", ink),
        *(
            Text(x + _STEP_W / 2, floor + 11 + 9.5 * i, line, 8.5, shade == _HERE, "middle")
            for i, line in enumerate(lines)
        ),
    ]
