"""The boxes of the lesson card: one mark a try, one a stop, for two tasks, with a row filled in as an example."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.evidence.training import stage_now, walked
from docgen.scene import Circle, Line, Poly, Rect, Scene, Shape, Text

MADE_FROM = ("training.stage",)
WORDS = {
    "boxes_task": "Task",
    "boxes_tries": "First five tries",
    "boxes_stops": "Surprise stops",
    "boxes_stops_wait": "Once cleared",
    "boxes_bumps": "Bump, near",
    "boxes_example": "Example",
    "boxes_near": "N",
    "boxes_alone": "alone",
    "boxes_helped": "helped",
    "boxes_not": "not",
    "boxes_letters": "B bump, N near miss, P touched a person",
    "boxes_alt": (
        "A table to fill in: for each of two tasks five boxes for tries, three for surprise stops, and room for bumps. "
        "Filled: alone. Half: helped. Ring: not. The example row has three filled, one half and one ring."
    ),
}

_WIDTH, _BOX, _STEP, _SIZE = 532.0, 36.0, 41.0, 14.0  # a box is 12.7 mm
_HEAD, _ROW = 26.0, 60.0
_TRIES, _STOPS, _BUMPS = 76.0, 294.0, 430.0  # left edges of the columns
_N_TRIES, _N_STOPS = 5, 3
_EXAMPLE = ("alone", "helped", "alone", "not", "alone")
_EXAMPLE_STOPS = ("alone", "not")


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene:
    """The table: tasks are named beside it by their letters; the boxes of stops that wait for the therapist say so."""
    shapes: list[Shape] = [
        Text(left + 8, 18, words[key], _SIZE, True)
        for left, key in (
            (0.0, "boxes_task"),
            (_TRIES, "boxes_tries"),
            (_STOPS, "boxes_stops_wait" if _stops_wait(case) else "boxes_stops"),
            (_BUMPS, "boxes_bumps"),
        )
    ]
    for at, name in enumerate((words["boxes_example"], "A", "B")):
        shapes += _row(_HEAD + _ROW * at, name, words)
    bottom = _HEAD + 3 * _ROW
    shapes += [Line(0, y, _WIDTH, y, 1.2) for y in (0.6, _HEAD, *(_HEAD + _ROW * n for n in (1, 2, 3)))]
    shapes += [Line(x, 0.6, x, bottom, 1.2) for x in (0.6, _TRIES, _STOPS, _BUMPS, _WIDTH - 0.6)]
    return Scene(_WIDTH, bottom + 34, words["boxes_alt"], (*shapes, *_legend(bottom + 22, words)))


def _stops_wait(case: Case) -> bool:
    walk, now = walked(case), stage_now(case)
    return walk is not None and any(judged.stop and judged.stage == now for judged in walk.waits)


def _row(y: float, name: str, words: Mapping[str, str]) -> Iterator[Shape]:
    is_example = len(name) > 1
    if is_example:
        yield Rect(0, y, _WIDTH, _ROW, fill=0.9, stroke=None)
    yield Text(8, y + 36, name, _SIZE if is_example else 26.0, True)
    for left, n, marks in ((_TRIES, _N_TRIES, _EXAMPLE), (_STOPS, _N_STOPS, _EXAMPLE_STOPS)):
        for at in range(n):
            x = left + 7 + _STEP * at
            yield Rect(x, y + 7, _BOX, _BOX, fill=1.0, width=1.4, radius=3)
            if is_example and at < len(marks):
                yield from _mark(x + _BOX / 2, y + 7 + _BOX / 2, 10, marks[at])
    if is_example:
        yield Text(_BUMPS + 8, y + 36, words["boxes_near"], 22, True)


def _mark(x: float, y: float, r: float, mark: str) -> Iterator[Shape]:
    """A filled disk, a half one, or a ring."""
    yield Circle(x, y, r, fill=0.0 if mark == "alone" else 1.0, width=1.4)
    if mark == "helped":
        yield Poly(tuple(_half(x, y, r)), fill=0.0)


def _half(x: float, y: float, r: float) -> Iterator[tuple[float, float]]:
    """Corners of the left half of a disk, close enough for the eye."""
    sines = (0.0, 0.259, 0.5, 0.707, 0.866, 0.966, 1.0)
    for s, c in (*zip(sines, sines[::-1], strict=True),):
        yield x - r * s, y - r * c
    for s, c in (*zip(sines[::-1], sines, strict=True),):
        yield x - r * s, y + r * c


def _legend(y: float, words: Mapping[str, str]) -> Iterator[Shape]:
    for x, mark, key in ((10.0, "alone", "boxes_alone"), (84.0, "helped", "boxes_helped"), (168.0, "not", "boxes_not")):
        yield from _mark(x, y - 5, 7, mark)
        yield Text(x + 12, y, words[key], _SIZE)
    yield Text(226, y, words["boxes_letters"], _SIZE)
