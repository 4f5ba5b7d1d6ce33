"""The stop switch pressed and set back, the power switch off and on, a brake release lever that locks and that rolls,
what locks the drive: each pair side by side, as the record says what they are. An arrow is the way of the hand that
brings a switch to what is drawn."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from docgen.case.model import Case
from docgen.case.stop import Stop
from docgen.figures.panels import LEAD, broken, lettered, panel, unbroken
from docgen.figures.strokes import arrow, moved, ringed, turned
from docgen.scene import LETTERS_PT, Circle, Line, Rect, Scene, Shape, Text

_ROOM, _BESIDE, _HIGH = 120.0, 62.0, 46.0  # two pairs stand in a column; from one drawing to the other; its height
_BESIDE_LONG_SECOND, _BESIDE_LONG_FIRST = 58.0, 69.0  # the same, where a word of a label is wider than its half
_LONGER = 8.0  # what a long word of the second label may take more
_ONE, _LINES_OF_ONE = 52.0, 3  # least room and most lines of a way that stands by itself
_NAME, _MARK = 140.0, 116.0  # widest line of the name of a switch, of a setting
_PUSHED_OUT, _KEY, _FORWARD_SHOWN = "push_out", "key_upright", ("flip_back", "slide_back")


def switch_pairs(case: Case, words: Mapping[str, str]) -> list[Scene]:
    """A pair of each switch of which the record says what it is."""
    return [_PAIRS[letter](case.configuration.stop, words) for letter in switches_drawn(case)]


def switches_drawn(case: Case) -> list[str]:
    """The letter of each switch of which the record says what it is."""
    stop = case.configuration.stop
    drawn = {
        "A": stop.stop_looks and stop.at_hand[0],
        "B": stop.off_looks and stop.power_for_helpers,
        "C": stop.levers_roll and stop.freewheel,
        "D": stop.other_way_looks and stop.other_way,
        "F": stop.drive_off_looks and stop.drive_off,
    }
    return [letter for letter, is_drawn in drawn.items() if is_drawn]


def stop_pair(stop: Stop, words: Mapping[str, str]) -> Scene:
    """The stop switch pressed and set back, for a record that says what it is."""
    drawn = [_stop(str(stop.stop_looks)), _set_back(stop)]
    name = words.get(f"stop_{stop.stop_looks}", words["stop_switch"])
    kind = "_bar" if stop.stop_looks in ("bar", "knob") else ""  # of another gender than a button, where there is one
    return pair_of("A", name, drawn, (words[f"way_stops{kind}"], words[f"way_set_back{kind}"]))


def levers_pair(stop: Stop, words: Mapping[str, str]) -> Scene:
    """A brake release lever that locks and one that rolls, for a record that says which way they point."""
    drawn = [_lever(points_down) for points_down in (stop.levers_roll != "down", stop.levers_roll == "down")]
    return pair_of("C", words["roll_levers"], drawn, (words["way_locks"], words["way_rolls"]))


def power_pair(stop: Stop, words: Mapping[str, str]) -> Scene:
    """The power switch off and on, for a record that says what it is. One that is pushed to come out is drawn first as
    the hand finds it: an arrow over the one that is out would turn the chair on again."""
    looks = str(stop.off_looks)
    if looks == _PUSHED_OUT:
        named = (words["way_on_pushed"], words["way_off_out"])
        return pair_of("B", words["power_off"], [_push(False), _push(True)], named)
    drawn = [_POWER[looks](off) for off in (True, False)]
    if looks == _KEY:
        return pair_of("B", words["power_off"], drawn, (words["way_key_off"], words["way_key_on"]))
    front = words["front"] if looks in _FORWARD_SHOWN else ""
    return pair_of("B", words["power_off"], drawn, (words["way_off"], words["way_on"]), front)


def _other_pair(stop: Stop, words: Mapping[str, str]) -> Scene:
    """The other way to cut the power: the plug in and pulled out, or a switch on and turned to off."""
    looks = stop.other_way_looks
    if looks == "plug":
        drawn = [_plug(0.0), [*_plug(16.0), *arrow([(24, 6), (50, 6)], 2.0, 7)]]
        named = (words["way_plugged"], words["way_pulled"])
    else:
        turn = -60.0 if looks == "turned_left" else 60.0
        turned_to = (150.0, 100.0) if looks == "turned_left" else (30.0, 80.0)
        drawn = [_turning(0.0), [*_turning(turn), *round_arrow(25, 25, 23, *reversed(turned_to))]]
        named = (words["way_on"], words["way_turned_left" if looks == "turned_left" else "way_turned_right"])
    return pair_of("D", words["power_plug" if looks == "plug" else "other_way"], drawn, named)


def lock_pair(stop: Stop, words: Mapping[str, str]) -> Scene:
    """What shuts off driving, while it does and while the chair drives, seen from behind."""
    sign = -1 if stop.drive_off_looks == "lever_left" else 1
    drawn = [
        [*_hub(sign), *round_arrow(25, 28, 21, 90 + sign * 55, 90 - sign * 60)],
        _hub(-sign),
    ]
    return pair_of("F", words["drive_off"], drawn, (words["way_no_drive"], words["way_drives"]))


_PAIRS: Mapping[str, Callable[[Stop, Mapping[str, str]], Scene]] = {
    "A": stop_pair,
    "B": power_pair,
    "C": levers_pair,
    "D": _other_pair,
    "F": lock_pair,
}


def ways_for_the_seat(stop: Stop, words: Mapping[str, str]) -> list[Scene]:
    """Each switch as a helper leaves it to move the seat: no drive, levers that lock, the stop set back, power on."""
    kind = "_bar" if stop.stop_looks in ("bar", "knob") else ""
    ways: list[Scene] = []
    if stop.drive_off_looks and stop.drive_off:
        sign = -1 if stop.drive_off_looks == "lever_left" else 1
        turned_way = [*_hub(sign), *round_arrow(25, 28, 21, 90 + sign * 55, 90 - sign * 60)]
        ways.append(_way("F", turned_way, words["way_no_drive"]))
    if stop.levers_roll and stop.freewheel:
        ways.append(_way("C", _lever(stop.levers_roll != "down"), words["way_locks"]))
    if stop.stop_looks and stop.at_hand[0]:
        ways.append(_way("A", _set_back(stop), words[f"way_set_back{kind}"]))
    if stop.off_looks == _KEY and stop.power_for_helpers:
        ways.append(_way("B", _key(False), words["way_key_on"]))
    return ways


def _way(letter: str, drawn: Sequence[Shape], word: str) -> Scene:
    """One way of a switch between its letter and its word."""
    room = _ONE
    while not unbroken(word, room) or len(broken(word, room, True)) > _LINES_OF_ONE:
        room += 2.0
    named, _ = lettered(0.0, 14.0 + _HIGH + 14, word, room, True)
    return panel([*ringed(10, 0, letter), *moved(drawn, 1, 2, 14.0), *named], f"{letter}: {word}.")


def settings_drawn(case: Case) -> bool:
    """Whether the record says that the setting is chosen by a slide, and names more than one."""
    return case.configuration.choose_looks == "slide" and len(case.configuration.profiles) > 1


def settings_switch(case: Case, words: Mapping[str, str]) -> Scene | None:
    """The slide that a helper sets, with the marks it has; None where the record does not say that it is one."""
    if not settings_drawn(case):
        return None
    names = [profile.name for profile in case.configuration.profiles]
    title, y = lettered(0.0, 4.0, words["settings_switch"], _ROOM, True)
    top = y = max(y - 8.0, 8.0)
    marks: list[Shape] = []
    for name in names:
        lines = broken(name, _MARK)
        middle = y + 8.5 + LEAD / 2 * (len(lines) - 1)
        marks.append(Line(28, middle, 34, middle, 1.4))
        marks += [Text(38, y + 12.7 + LEAD * at, line, LETTERS_PT) for at, line in enumerate(lines)]
        y += 17.0 + LEAD * (len(lines) - 1)
    shapes: list[Shape] = [*title, Rect(8, top, 20, y - top, fill=0.85, radius=3), *marks]
    shapes.append(Rect(9, top + 1.5, 18, 14, fill=0.2, radius=2))
    low = y - 4
    shapes += [*arrow([(3, top + 20), (3, low)], 1.6, 6), *arrow([(3, low), (3, top + 4)], 1.6, 6)]
    return panel(shapes, words["settings_alt"].format(names=", ".join(names)))


def pair_of(letter: str, name: str, drawn: Sequence[Sequence[Shape]], words: Sequence[str], front: str = "") -> Scene:
    """Two ways of one switch under its letter, if it has one, and its name, each above its word.

    front  the word for the front of the chair, with an arrow there, where the drawing is to be seen from the side
    """
    indent = 24.0 if letter else 0.0
    title, y = lettered(indent, 4.0, name, _NAME - indent, True)
    shapes: list[Shape] = [*(ringed(10, 0, letter) if letter else []), *title]
    below = max(y - 12.0, 8.0)
    ends = [0.0]
    beside = _beside(*words)
    rooms = (beside - 4, max(_ROOM + 2 - beside, _BESIDE - 4))
    if not unbroken(words[1], rooms[1]):
        rooms = (rooms[0], _ROOM + _LONGER - beside)
    for at, (way, word, room) in enumerate(zip(drawn, words, rooms, strict=True)):
        named, end = lettered(at * beside, below + _HIGH + 14, word, room, True)
        ends.append(end)
        shapes += [*moved(way, 1, at * beside, below), *named]
    if front:
        y = max(ends)
        shapes += [*arrow([(24, y - 4), (2, y - 4)], 2.0, 7), Text(28, y, front, LETTERS_PT)]
    return panel(shapes, f"{letter}{', ' if letter else ''}{name}: {words[0]}; {words[1]}.")


def _beside(first: str, second: str) -> float:
    """From one drawing of a pair to the other, so that no word of their labels is broken."""
    if not unbroken(first, _BESIDE - 4):
        return _BESIDE_LONG_FIRST
    return _BESIDE if unbroken(second, _ROOM + _LONGER - _BESIDE) else _BESIDE_LONG_SECOND


def round_arrow(x: float, y: float, r: float, start_deg: float, end_deg: float) -> list[Shape]:
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
        way = round_arrow(9, 30, 44, 4, 34) if stop.set_back_by == "pulled" else []
        return [*_arm(-38.0), *way]
    ways = {"turned_right": (165.0, 15.0), "turned_left": (15.0, 165.0)}
    if stop.set_back_by in ways:
        return [*_button(str(stop.stop_looks), 16.0), *round_arrow(25, 18, 17, *ways[stop.set_back_by])]
    way = arrow([(25, 14), (25, -2)], 2.0, 7) if stop.set_back_by == "pulled" else []
    return [*_button(str(stop.stop_looks), 16.0), *way]


def _lever(points_down: bool) -> list[Shape]:
    """A wheel and a lever at its hub."""
    arm = turned([Rect(0, -4, 23, 8, fill=0.2, radius=3)], 55.0 if points_down else -55.0)
    return [Circle(20, 22, 16, fill=0.85), Circle(20, 22, 7, fill=1.0), *moved(arm, 1, 20, 22)]


def _hub(sign: int) -> list[Shape]:
    """A lever on its hub, to the left for -1, to the right for 1."""
    return [*moved([Rect(0, -4.5, 24, 9, fill=0.2, radius=4)], sign, 25, 30), Circle(25, 30, 8, fill=0.9, width=1.4)]


def _key(off: bool) -> list[Shape]:
    """A key as it stands, without an arrow: which way it turns is not on record."""
    bow = turned([Rect(-3.5, -15, 7, 30, fill=0.25, radius=3)], 0.0 if off else 90.0)
    return [Circle(25, 25, 20, fill=0.9), *moved(bow, 1, 25, 25)]


def _push(off: bool) -> list[Shape]:
    cap = Rect(14, 18 if off else 28, 22, 18 if off else 8, fill=0.25)
    return [cap, Rect(4, 36, 42, 9, fill=0.6), *([] if off else arrow([(25, 4), (25, 24)], 2.0, 7))]


def _plug(out: float) -> list[Shape]:
    """A socket at the left, and a plug with its cable, so many points out of it."""
    return [
        Rect(2, 12, 12, 28, fill=0.6),
        *(Rect(14, y, out, 3, fill=0.25) for y in (20, 29) if out),
        Rect(14 + out, 15, 15, 22, fill=0.25, radius=3),
        Line(29 + out, 26, 44 + out * 0.5, 26, 3.0),
    ]


def _turning(degrees: float) -> list[Shape]:
    """A handle on its round plate, upright at 0."""
    handle = turned([Rect(-4, -17, 8, 34, fill=0.25, radius=3)], degrees)
    return [Circle(25, 25, 20, fill=0.9), *moved(handle, 1, 25, 25)]


def _rocker(off: bool) -> list[Shape]:
    return [Rect(12, 2, 26, 43, fill=0.9), Line(12, 23.5, 38, 23.5, 1.2), Circle(25, 35 if off else 12, 4, fill=0.0)]


def _flip(off: bool) -> list[Shape]:
    """From the left: back is to the right."""
    arm = turned([Rect(-4, -26, 8, 28, fill=0.25, radius=4)], 35.0 if off else -35.0)
    return [Rect(4, 36, 42, 9, fill=0.6), *moved(arm, 1, 25, 36), *(round_arrow(25, 36, 32, 112, 68) if off else [])]


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
    "rocker_down": _rocker,
    "flip_back": _flip,
    "toggle_down": _toggle,
    "slide_back": _slide,
}
