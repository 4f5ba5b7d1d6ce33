"""The steps of training as a row of boxes in bands: behind in grey, here in black, ahead open."""

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

_WIDTH, _BOX_W, _BOX_H, _TOP = 470.0, 51.0, 30.0, 26.0
_BEHIND, _HERE, _AHEAD = 0.75, 0.0, 1.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, Any]) -> Scene | None:
    """One box a step, from left to right under the names of the bands; None without a step to train at."""
    now = stage_now(case)
    if now is None:
        return None
    names, n = words["ladder_names"], len(STAGES)
    left = (_WIDTH - _BOX_W * n) / 2
    shapes: list[Shape] = []
    for band, name in enumerate(words["bands"]):
        places = [stage.number for stage in STAGES if stage.band == band]
        begin, end = left + _BOX_W * places[0] + 2, left + _BOX_W * (places[-1] + 1) - 2
        shapes += [
            Line(begin, _TOP - 3, end, _TOP - 3, 0.8),
            *(
                Text((begin + end) / 2, _TOP - 15 + 9 * i if len(places) == 1 else _TOP - 6, line, 8.0, False, "middle")
                for i, line in enumerate(two_lines(name, 11) if len(places) == 1 else [name])
            ),
        ]
    for place in range(n):
        shade = _BEHIND if place < now else _HERE if place == now else _AHEAD
        shapes += _box(left + _BOX_W * place, shade, names[place])
    x = left + _BOX_W * (now + 0.5)
    below = _TOP + _BOX_H + 12
    shapes.append(Text(min(max(x, 30.0), _WIDTH - 30.0), below, words["ladder_here"], 9, True, "middle"))
    behind = words["ladder_behind"].format(names=", ".join(names[:now])) if now else ""
    ahead = words["ladder_ahead"].format(names=", ".join(names[now + 1 :])) if now + 1 < n else ""
    alt = " ".join(filter(None, [words["ladder_title"].format(name=names[now]), behind, ahead]))
    return Scene(_WIDTH, below + 6, alt, tuple(shapes))


def _box(x: float, shade: float, name: str) -> list[Shape]:
    ink = 1.0 if shade == _HERE else 0.0
    lines = two_lines(name, 11)
    return [
        Rect(x, _TOP, _BOX_W, _BOX_H, fill=shade),
        *(
            Text(
                x + _BOX_W / 2,
                _TOP + _BOX_H / 2 + 3 + 9.5 * (i - (len(lines) - 1) / 2),
                line,
                8.5,
                shade == _HERE,
                "middle",
                ink,
            )
            for i, line in enumerate(lines)
        ),
    ]
