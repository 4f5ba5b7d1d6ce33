"""How each control did: one row a method, a dot for the share of successful attempts, a line for its interval."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence, Fact
from docgen.figures.lettering import two_lines
from docgen.scene import Circle, Line, Scene, Shape, Text

MADE_FROM = ("trial.methods",)

_WIDTH, _LEFT, _RIGHT, _ROW, _TOP = 470.0, 184.0, 66.0, 18.0, 4.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """One dot and interval per method tried, the requested control filled and in bold; None with no rows."""
    rows = [
        (method.name, fact, method.id == case.configuration.method)
        for method in case.trial.methods
        if (fact := evidence.of("success", method.id)) and fact.value is not None
    ]
    if not rows:
        return None
    bottom = _TOP + _ROW * len(rows)
    shapes: list[Shape] = [*_scale(bottom, words)]
    for place, (name, fact, asked_for) in enumerate(rows):
        shapes += _row(name, fact, asked_for, _TOP + _ROW * (place + 0.5))
    alt = " ".join(
        words[_pattern(fact)].format(
            name=name, k=f"{fact.k:g}", n=fact.n, low=_percent(fact.low), high=_percent(fact.high)
        )
        for name, fact, _ in rows
    )
    return Scene(_WIDTH, bottom + 30, f"{words['methods_title']} {alt}", tuple(shapes))


def _pattern(fact: Fact) -> str:
    """All of n and none of n are spoken of from one side only."""
    return "methods_alt_all" if fact.k == fact.n else "methods_alt_none" if fact.k == 0 else "methods_alt"


def _x(share: float) -> float:
    return _LEFT + share * (_WIDTH - _LEFT - _RIGHT)


def _percent(share: float | None) -> str:
    return f"{(share or 0) * 100:.0f}"


def _scale(bottom: float, words: Mapping[str, str]) -> list[Shape]:
    shapes: list[Shape] = []
    for step in range(5):
        x = _x(step / 4)
        shapes.append(Line(x, _TOP, x, bottom, 0.4, 0.75 if step else 0.3))
        shapes.append(Text(x, bottom + 13, f"{step * 25}%", 8.5, anchor="middle"))
    shapes.append(Line(_x(0), bottom, _x(1), bottom, 0.8))
    shapes.append(Text((_x(0) + _x(1)) / 2, bottom + 27, words["methods_axis"], 8.5, anchor="middle"))
    return shapes


def _row(name: str, fact: Fact, asked_for: bool, y: float) -> list[Shape]:
    lines = two_lines(name, 35)
    low, high, value = _x(fact.low or 0.0), _x(fact.high or 0.0), _x(fact.value or 0.0)
    return [
        *(
            Text(_LEFT - 10, y + 3 + 9 * i - 4.5 * (len(lines) - 1), line, 9, asked_for, "end")
            for i, line in enumerate(lines)
        ),
        Line(low, y, high, y, 1.6 if asked_for else 1.0),
        Line(low, y - 4, low, y + 4, 1.0),
        Line(high, y - 4, high, y + 4, 1.0),
        Circle(value, y, 4.2, fill=0.0 if asked_for else 1.0, stroke=0.0, width=1.1),
        Text(_WIDTH - _RIGHT + 10, y + 3, f"{fact.k:g}/{fact.n}", 9, asked_for),
    ]
