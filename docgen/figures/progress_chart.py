"""Share of tries done in each session after delivery, and the step of each day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from docgen.case.model import Case
from docgen.evidence.done import counted
from docgen.evidence.fact import Evidence
from docgen.evidence.training import by_day
from docgen.scene import Circle, Line, Scene, Shape, Text

MADE_FROM = ("training.stage",)

_WIDTH, _HEIGHT, _LEFT, _RIGHT, _TOP, _BOTTOM = 470.0, 214.0, 40.0, 14.0, 28.0, 46.0
_ROOM_FOR_WORDS = 34.0

_NAME_W = 76.0  # room that the name of a step takes


def scene(case: Case, evidence: Evidence, words: Mapping[str, Any]) -> Scene | None:
    """A dot a session, the highest stage of each day along the top; None without sessions."""
    sessions = by_day(counted(case).sessions)
    if not sessions:
        return None
    first, last = sessions[0][0], sessions[-1][0]
    span = max(1, (last - first).days)

    def x(on: date) -> float:
        return _LEFT + 8 + (on - first).days / span * (_WIDTH - _LEFT - _RIGHT - 16)

    shares = [(on, sum(row.success for row in rows) / len(rows)) for on, rows in sessions]
    shapes: list[Shape] = [*_frame(words), *_months(first, last, x, words)]
    shapes += [Line(x(a), _y(s), x(b), _y(t), 0.5, 0.5) for (a, s), (b, t) in zip(shares, shares[1:], strict=False)]
    shapes += [Circle(x(on), _y(share), 2.6, fill=0.0) for on, share in shares]
    stages = [(on, max(row.stage for row in rows)) for on, rows in sessions]
    shapes += _stages(stages, x, words)
    in_words = ", ".join(
        words["progress_stage"].format(stage=words["ladder_names"][stage], day=_day(on, words))
        for on, stage in _steps(stages)
    )
    alt = words["progress_alt"].format(
        n=len(sessions),
        first=_day(first, words),
        last=_day(last, words),
        share_first=f"{shares[0][1] * 100:.0f}",
        share_last=f"{shares[-1][1] * 100:.0f}",
        stages=in_words,
    )
    return Scene(_WIDTH, _HEIGHT, alt, tuple(shapes))


def _y(share: float) -> float:
    return _HEIGHT - _BOTTOM - share * (_HEIGHT - _TOP - _BOTTOM)


def _frame(words: Mapping[str, Any]) -> list[Shape]:
    shapes: list[Shape] = []
    for step in range(5):
        y = _y(step / 4)
        shapes += [
            Line(_LEFT, y, _WIDTH - _RIGHT, y, 0.4 if step else 0.8, 0.75 if step else 0.0),
            Text(_LEFT - 5, y + 3, f"{step * 25}%", 8.5, anchor="end"),
        ]
    return [
        *shapes,
        Text(
            (_LEFT + _WIDTH - _RIGHT) / 2,
            _HEIGHT - 6,
            words["progress_axis"],
            8.5,
            anchor="middle",
        ),
    ]


def _months(first: date, last: date, x: Any, words: Mapping[str, Any]) -> list[Shape]:
    """The first and last day, and the first of each month between, where there is room for its name."""
    marks = [first]
    year, month = first.year, first.month
    while (year, month) < (last.year, last.month):
        year, month = (year, month + 1) if month < 12 else (year + 1, 1)
        marks.append(date(year, month, 1))
    marks.append(last)
    shapes: list[Shape] = []
    labelled: list[float] = []
    for on in (marks[0], marks[-1], *marks[1:-1]):
        at = x(on)
        shapes.append(Line(at, _y(0), at, _y(0) + 4, 0.8))
        if all(abs(at - other) >= _ROOM_FOR_WORDS for other in labelled):
            labelled.append(at)
            shapes.append(
                Text(min(max(at, _LEFT), _WIDTH - _RIGHT - 12), _y(0) + 15, _day(on, words), 8.5, anchor="middle")
            )
    return shapes


def _steps(stages: list[tuple[date, int]]) -> list[tuple[date, int]]:
    """The days on which the stage changed, the first among them."""
    return [stage for place, stage in enumerate(stages) if place == 0 or stages[place - 1][1] != stage[1]]


def _stages(stages: list[tuple[date, int]], x: Any, words: Mapping[str, Any]) -> list[Shape]:
    shapes: list[Shape] = [Text(_LEFT - 5, _TOP - 10, words["progress_stages"], 8.5, anchor="end")]
    last_label = -100.0
    for on, stage in _steps(stages):
        at = x(on)
        shapes.append(Line(at, _TOP - 18, at, _y(0), 0.5, 0.4, (1.5, 2.5)))
        if (
            at - last_label >= _NAME_W
        ):  # a step of a few days has its line; its name stands in the text beside the picture
            last_label = at
            name, y = words["ladder_names"][stage], _TOP - 10
            late = at + _NAME_W > _WIDTH
            shapes.append(Text(at - 2, y, name, 7.5, True, "end") if late else Text(at + 2, y, name, 7.5, True))
    return shapes


def _day(on: date, words: Mapping[str, Any]) -> str:
    pattern: str = words["day"]
    return pattern.format(day=on.day, month=words["short_months"][on.month - 1])
