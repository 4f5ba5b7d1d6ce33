"""The stop switch pressed and set back, the power switch off and on, a brake release lever that locks and that rolls,
what locks the drive: each pair side by side, as the record says what they are. An arrow is the way of the hand that
brings a switch to what is drawn."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from docgen.case.model import Case
from docgen.case.stop import OffLooks, Stop
from docgen.figures.panels import lettered, panel
from docgen.figures.strokes import arrow, moved, ringed, turned
from docgen.scene import LETTERS_PT, Circle, Line, Rect, Scene, Shape, Text

_ROOM, _BESIDE, _HIGH = 120.0, 62.0, 46.0  # two pairs stand in a column; from one drawing to the other; its height
_PUSHED_OUT, _FORWARD_SHOWN = "push_out", ("flip_back", "slide_back")


def switch_pairs(case: Case, words: Mapping[str, str]) -> list[Scene]:
    """A pair of each switch of which the record says what it is."""
    stop = case.configuration.stop
    pairs: list[Scene] = []
    if stop.stop_looks and stop.at_hand[0]:
        drawn = [_stop(stop.stop_looks), _set_back(stop)]
        pairs.append(_pair("A", words["stop_switch"], drawn, (words["way_stops"], words["way_set_back"])))
    if stop.off_looks and stop.power_off:
        pairs.append(power_pair(stop.off_looks, words))
    if stop.levers_roll and stop.freewheel:
        drawn = [_lever(points_down) for points_down in (stop.levers_roll != "down", stop.levers_roll == "down")]
        pairs.append(_pair("C", words["roll_levers"], drawn, (words["way_locks"], words["way_rolls"])))
    if stop.drive_off_looks and stop.drive_off:
        pairs.append(lock_pair(stop, words))
    return pairs


def power_pair(looks: OffLooks, words: Mapping[str, str]) -> Scene:
    """The power switch off and on."""
    drawn = [_POWER[looks](off) for off in (True, False)]
    off = words["way_off_pushed" if looks == _PUSHED_OUT else "way_off"]
    front = words["front"] if looks in _FORWARD_SHOWN else ""
    return _pair("B", words["power_off"], drawn, (off, words["way_on"]), front)


def lock_pair(stop: Stop, words: Mapping[str, str]) -> Scene:
    """What shuts off driving, while it does and while the chair drives, seen from behind."""
    sign = -1 if stop.drive_off_looks == "lever_left" else 1
    drawn = [
        [*_hub(sign), *_round(25, 28, 21, 90 + sign * 55, 90 - sign * 60)],
        _hub(-sign),
    ]
    return _pair("F", words["drive_off"], drawn, (words["way_no_drive"], words["way_drives"]))


def settings_switch(case: Case, words: Mapping[str, str]) -> Scene | None:
    """The slide that a helper sets, with the marks it has; None where the record does not say that it is one."""
    names = [profile.name for profile in case.configuration.profiles]
    if case.configuration.choose_looks != "slide" or len(names) < 2:
        return None
    title, y = lettered(0.0, 4.0, words["settings_switch"], _ROOM, True)
    top, step = max(y - 8.0, 8.0), 17.0
    shapes: list[Shape] = [*title, Rect(8, top, 20, step * len(names), fill=0.85, radius=3)]
    shapes.append(Rect(9, top + 1.5, 18, step - 3, fill=0.2, radius=2))
    for at, name in enumerate(names):
        middle = top + step * (at + 0.5)
        shapes += [Line(28, middle, 34, middle, 1.4), Text(38, middle + 4.2, name, LETTERS_PT)]
    low = top + step * len(names) - 4
    shapes += [*arrow([(3, top + 20), (3, low)], 1.6, 6), *arrow([(3, low), (3, top + 4)], 1.6, 6)]
    return panel(shapes, words["settings_alt"].format(names=", ".join(names)))


def _pair(letter: str, name: str, drawn: Sequence[Sequence[Shape]], words: Sequence[str], front: str = "") -> Scene:
    """Two ways of one switch under its letter and name, each above its word.

    front  the word for the front of the chair, with an arrow there, where the drawing is to be seen from the side
    """
    title, y = lettered(24.0, 4.0, name, _ROOM - 24, True)
    shapes: list[Shape] = [*ringed(10, 0, letter), *title]
    below = max(y - 12.0, 8.0)
    ends = [0.0]
    for at, (way, word) in enumerate(zip(drawn, words, strict=True)):
        named, end = lettered(at * _BESIDE, below + _HIGH + 14, word, _BESIDE - 3, True)
        ends.append(end)
        shapes += [*moved(way, 1, at * _BESIDE, below), *named]
    if front:
        y = max(ends)
        shapes += [*arrow([(24, y - 4), (2, y - 4)], 2.0, 7), Text(28, y, front, LETTERS_PT)]
    return panel(shapes, f"{letter}, {name}: {words[0]}; {words[1]}.")


def _round(x: float, y: float, r: float, start_deg: float, end_deg: float) -> list[Shape]:
    """An arrow round x, y from one angle to the other: 0 to the right, 90 up."""
    turns = [math.radians(start_deg + (end_deg - start_deg) * i / 12) for i in range(13)]
    return arrow([(x + r * math.cos(t), y - r * math.sin(t)) for t in turns], 2.0, 7)


def _button(looks: str, top: float) -> list[Shape]:
    return [
        Rect(19, top + 8, 12, 36 - top - 8, fill=0.8),
        Rect(8, top, 34, 12, fill=0.25, radius=5 if looks == "button" else 1),
        Rect(4, 36, 42, 9, fill=0.6),
    ]


def _arm(degrees: float) -> list[Shape]:
    arm = turned([Rect(0, -5, 40, 9, fill=0.25, radius=4)], degrees)
    return [Rect(4, 36, 42, 9, fill=0.6), *moved(arm, 1, 6, 30), Circle(9, 30, 3.5, fill=1.0)]


def _stop(looks: str) -> list[Shape]:
    """A button or knob pressed in, or a paddle, bar or lever pressed to its base; about 52 by 44 points."""
    if looks in ("button", "knob"):
        return [*_button(looks, 24.0), *arrow([(25, 0), (25, 21)], 2.0, 7)]
    return [*_arm(0.0), *arrow([(36, 4), (36, 22)], 2.0, 7)]


def _set_back(stop: Stop) -> list[Shape]:
    """The same set back, with the way it is turned or pulled to get there, where that is recorded."""
    if stop.stop_looks not in ("button", "knob"):
        way = _round(9, 30, 44, 4, 34) if stop.set_back_by == "pulled" else []
        return [*_arm(-38.0), *way]
    ways = {"turned_right": (165.0, 15.0), "turned_left": (15.0, 165.0)}
    if stop.set_back_by in ways:
        return [*_button(str(stop.stop_looks), 16.0), *_round(25, 18, 17, *ways[stop.set_back_by])]
    way = arrow([(25, 14), (25, -2)], 2.0, 7) if stop.set_back_by == "pulled" else []
    return [*_button(str(stop.stop_looks), 16.0), *way]


def _lever(points_down: bool) -> list[Shape]:
    """A wheel and a lever at its hub."""
    arm = turned([Rect(0, -4, 30, 8, fill=0.2, radius=3)], 55.0 if points_down else -55.0)
    return [Circle(20, 26, 19, fill=0.85), Circle(20, 26, 8, fill=1.0), *moved(arm, 1, 20, 26)]


def _hub(sign: int) -> list[Shape]:
    """A lever on its hub, to the left for -1, to the right for 1."""
    return [*moved([Rect(0, -4.5, 24, 9, fill=0.2, radius=4)], sign, 25, 30), Circle(25, 30, 8, fill=0.9, width=1.4)]


def _key(off: bool) -> list[Shape]:
    bow = turned([Rect(-3.5, -15, 7, 30, fill=0.25, radius=3)], 0.0 if off else 90.0)
    return [Circle(25, 25, 20, fill=0.9), *moved(bow, 1, 25, 25), *(_round(25, 25, 17, 15, 75) if off else [])]


def _push(off: bool) -> list[Shape]:
    cap = Rect(14, 18 if off else 28, 22, 18 if off else 8, fill=0.25)
    return [cap, Rect(4, 36, 42, 9, fill=0.6), *(arrow([(25, -2), (25, 15)], 2.0, 7) if off else [])]


def _rocker(off: bool) -> list[Shape]:
    return [Rect(12, 2, 26, 43, fill=0.9), Line(12, 23.5, 38, 23.5, 1.2), Circle(25, 35 if off else 12, 4, fill=0.0)]


def _flip(off: bool) -> list[Shape]:
    """From the left: back is to the right."""
    arm = turned([Rect(-4, -26, 8, 28, fill=0.25, radius=4)], 35.0 if off else -35.0)
    return [Rect(4, 36, 42, 9, fill=0.6), *moved(arm, 1, 25, 36), *(_round(25, 36, 32, 112, 68) if off else [])]


def _down(off: bool) -> list[Shape]:
    """The way down beside a switch that is off when it is down."""
    return arrow([(46, 8), (46, 40)], 2.0, 7) if off else []


def _toggle(off: bool) -> list[Shape]:
    arm = Rect(21, 24 if off else 3, 8, 21, fill=0.25, radius=4)
    return [Rect(12, 2, 26, 43, fill=0.9), Circle(25, 23.5, 8, fill=0.7), arm, *_down(off)]


def _slide(off: bool) -> list[Shape]:
    """From above: forward is up; what is white shows behind it when it is on."""
    return [
        Rect(15, 2, 20, 43, fill=0.75),
        Rect(15, 24, 20, 21, fill=1.0),
        Rect(15, 24 if off else 2, 20, 21, fill=0.25),
        *_down(off),
    ]


_POWER: dict[str, Callable[[bool], list[Shape]]] = {
    "key_upright": _key,
    "push_out": _push,
    "rocker_down": _rocker,
    "flip_back": _flip,
    "toggle_down": _toggle,
    "slide_back": _slide,
}
