"""The stop switch pressed and set back, the power switch off and on, a brake release lever that locks and that rolls:
each pair side by side, as the record says what they are."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from docgen.case.model import Case
from docgen.figures.panels import lettered, panel
from docgen.figures.strokes import arrow, moved, ringed, turned
from docgen.scene import Circle, Line, Rect, Scene, Shape

_ROOM, _BESIDE, _HIGH = 120.0, 62.0, 46.0  # two pairs stand in a column; from one drawing to the other; its height


def switch_pairs(case: Case, words: Mapping[str, str]) -> list[Scene]:
    """A pair of each switch of which the record says what it is."""
    stop = case.configuration.stop
    pairs: list[Scene] = []
    if stop.stop_looks and stop.at_hand[0]:
        drawn = [_stop(stop.stop_looks, pressed) for pressed in (True, False)]
        pairs.append(_pair("A", words["stop_switch"], drawn, (words["way_stops"], words["way_set_back"])))
    if stop.off_looks and stop.power_off:
        drawn = [_POWER[stop.off_looks](off) for off in (True, False)]
        pairs.append(_pair("B", words["power_off"], drawn, (words["way_off"], words["way_on"])))
    if stop.levers_roll and stop.freewheel:
        drawn = [_lever(points_down) for points_down in (stop.levers_roll != "down", stop.levers_roll == "down")]
        pairs.append(_pair("C", words["roll_levers"], drawn, (words["way_locks"], words["way_rolls"])))
    return pairs


def _pair(letter: str, name: str, drawn: Sequence[Sequence[Shape]], words: Sequence[str]) -> Scene:
    """Two ways of one switch under its letter and name, each above its word."""
    title, y = lettered(24.0, 4.0, name, _ROOM - 24, True)
    shapes: list[Shape] = [*ringed(10, 0, letter), *title]
    below = max(y - 12.0, 8.0)
    for at, (way, word) in enumerate(zip(drawn, words, strict=True)):
        named, _ = lettered(at * _BESIDE, below + _HIGH + 14, word, _BESIDE, True)
        shapes += [*moved(way, 1, at * _BESIDE, below), *named]
    return panel(shapes, f"{letter}, {name}: {words[0]}; {words[1]}.")


def _stop(looks: str, pressed: bool) -> list[Shape]:
    """A button or knob in or out, or a paddle, bar or lever against its base or away from it; about 52 by 44 points."""
    base = Rect(4, 36, 42, 9, fill=0.6)
    if looks in ("button", "knob"):
        top = 24.0 if pressed else 12.0
        cap = Rect(8, top, 34, 12, fill=0.25, radius=5 if looks == "button" else 1)
        way = arrow([(25, 0), (25, top - 3)], 2.0, 7) if pressed else []
        return [Rect(19, top + 8, 12, 36 - top - 8, fill=0.8), cap, base, *way]
    arm = turned([Rect(0, -5, 40, 9, fill=0.25, radius=4)], 0.0 if pressed else -38.0)
    way = arrow([(36, 4), (36, 22)], 2.0, 7) if pressed else []
    return [base, *moved(arm, 1, 6, 30), Circle(9, 30, 3.5, fill=1.0), *way]


def _lever(points_down: bool) -> list[Shape]:
    """A wheel and a lever at its hub."""
    arm = turned([Rect(0, -4, 30, 8, fill=0.2, radius=3)], 55.0 if points_down else -55.0)
    return [Circle(20, 26, 19, fill=0.85), Circle(20, 26, 8, fill=1.0), *moved(arm, 1, 20, 26)]


def _key(off: bool) -> list[Shape]:
    bow = turned([Rect(-3.5, -15, 7, 30, fill=0.25, radius=3)], 0.0 if off else 90.0)
    return [Circle(25, 25, 20, fill=0.9), *moved(bow, 1, 25, 25)]


def _push(off: bool) -> list[Shape]:
    return [Rect(14, 10 if off else 28, 22, 26 if off else 8, fill=0.25), Rect(4, 36, 42, 9, fill=0.6)]


def _rocker(off: bool) -> list[Shape]:
    return [Rect(12, 2, 26, 43, fill=0.9), Line(12, 23.5, 38, 23.5, 1.2), Circle(25, 35 if off else 12, 4, fill=0.0)]


def _flip(off: bool) -> list[Shape]:
    """From the left: back is to the right."""
    arm = turned([Rect(-4, -26, 8, 28, fill=0.25, radius=4)], 35.0 if off else -35.0)
    return [Rect(4, 36, 42, 9, fill=0.6), *moved(arm, 1, 25, 36)]


def _toggle(off: bool) -> list[Shape]:
    arm = Rect(21, 24 if off else 3, 8, 21, fill=0.25, radius=4)
    return [Rect(12, 2, 26, 43, fill=0.9), Circle(25, 23.5, 8, fill=0.7), arm]


def _slide(off: bool) -> list[Shape]:
    """From above: forward is up; what is white shows behind it when it is on."""
    return [
        Rect(15, 2, 20, 43, fill=0.75),
        Rect(15, 24, 20, 21, fill=1.0),
        Rect(15, 24 if off else 2, 20, 21, fill=0.25),
    ]


_POWER: dict[str, Callable[[bool], list[Shape]]] = {
    "key_upright": _key,
    "push_out": _push,
    "rocker_down": _rocker,
    "flip_back": _flip,
    "toggle_down": _toggle,
    "slide_back": _slide,
}
