"""Care by hand at the body and at the chair, each under its words: signs for yes, no and stop, the leg bag, a cuff,
legs lifted, a mouthpiece put on, the chair pushed with its levers set to roll, charger and plugs in and out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from docgen.case.model import Case
from docgen.figures.panels import bounds, lettered, panel
from docgen.figures.people import seated, seated_arm, standing
from docgen.figures.rider import armrest_from_left, chair_from_left, driver_from_left, joined, limb, scaled, sizes_of
from docgen.figures.strokes import arrow, moved, oval, right, turned, wrong
from docgen.figures.switch_ways import pair_of
from docgen.scene import LETTERS_PT, Circle, Line, Poly, Rect, Scene, Shape, Text

_SCALE, _WIDTH, _USUAL = 0.043, 1.1, 118.0  # the last: room for words
_LEAST = {"cuff": 94.0}
_LEG = 0.78
_SIGNS = ("yes", "no", "stop")


def push_drawn(case: Case) -> bool:
    """Whether the record says which way the levers roll."""
    return bool(case.configuration.stop.freewheel and case.configuration.stop.levers_roll)


def care_panels(case: Case, acts: Sequence[str], words: Mapping[str, str]) -> list[Scene]:
    """A panel of each of these acts, and of what the record has of pushing and charging."""
    stop = case.configuration.stop
    panels = [_signs(acts, words)] if any(act.startswith(_SIGNS) for act in acts) else []
    if push_drawn(case):
        panels.append(_named(f"push_{stop.levers_roll}", _pushed(case), words))
    if case.configuration.charge_at:
        panels.append(_pair("charge", [_charger(0.0), _charger(14.0)], words))
    panels += [_named(act, draw(), words) for act, draw in _AT_BODY.items() if act in acts]
    panels += [_pair(act, drawn, words) for act, drawn in _PLUGS.items() if act in acts]
    return panels


def _named(act: str, shapes: Sequence[Shape], words: Mapping[str, str]) -> Scene:
    left, top, far, _ = bounds(shapes)
    title, y = lettered(0.0, 0.0, words[f"hands_{act}"], max(far - left, _LEAST.get(act, _USUAL)), True)
    return panel([*title, *moved(shapes, 1, -left, y - 8 - top)], words[f"hands_{act}_alt"])


def _pair(act: str, drawn: Sequence[Sequence[Shape]], words: Mapping[str, str]) -> Scene:
    return pair_of("", words[f"hands_{act}"], drawn, (words[f"hands_{act}_first"], words[f"hands_{act}_then"]))


# ---- signs ----------------------------------------------------------------------------------------


def _signs(acts: Sequence[str], words: Mapping[str, str]) -> Scene:
    """Each sign above the word that it stands for."""
    shapes: list[Shape] = []
    meanings: list[str] = []
    title, y = lettered(0.0, 0.0, words["hands_signs"], 200.0, True)
    x, low = 0.0, y - 8 + 50
    for act in (act for word in _SIGNS for act in acts if act.startswith(word)):
        drawn = _SIGN[act]()
        left, _, far, bottom = bounds(drawn)
        name = words[f"hands_{act.partition('_')[0]}"]
        wide = max(far - left, 34.0)
        shapes += moved(drawn, 1, x + (wide - far + left) / 2 - left, low - bottom)
        shapes.append(Text(x + wide / 2, low + 15, name, LETTERS_PT, True, "middle"))
        meanings.append(f"{name}: {words[f'hands_{act}']}")
        x += wide + 14
    return panel([*title, *shapes], f"{words['hands_signs']}. {'; '.join(meanings)}.")


def _face(eyes: str = "open", mouth: str = "shut") -> list[Shape]:
    """A face from the front, about 34 by 42 points: eyes open, up, down or shut, mouth shut or calling."""
    at = {"open": 0.0, "up": -2.6, "down": 2.6}
    drawn: list[Shape] = [*(oval(side * 17, 1, 3, 5) for side in (-1, 1)), oval(0, 0, 17, 21, 0.97, 1.4)]
    for side in (-1, 1):
        if eyes == "shut":
            drawn.append(
                Poly(tuple((side * 7.5 + d, -3 + 2 - abs(d) * 0.5) for d in (-4, -2, 0, 2, 4)), closed=False, width=1.8)
            )
        else:
            drawn += [
                oval(side * 7.5, -4, 4.8, 5, 1.0, 1.2),
                Circle(side * 7.5, -4 + at[eyes], 2.4, fill=0.0, stroke=None),
            ]
    if mouth == "calls":
        drawn.append(oval(0, 11, 5, 6, 0.2, 1.0))
        drawn += [Line(side * 23, 4 + dy, side * 29, 4 + 2.2 * dy, 1.8) for side in (-1, 1) for dy in (-4, 0, 4)]
    else:
        drawn.append(Line(-5, 11, 5, 11, 1.6))
    return drawn


def _eyes_up() -> list[Shape]:
    return [*_face("up"), *arrow([(25, 4), (25, -18)], 2.0, 7)]


def _eyes_shut_then_open() -> list[Shape]:
    return [*_face("shut"), *arrow([(23, 0), (39, 0)], 2.0, 7), *moved(_face(), 1, 62)]


def _foot_up(times: int) -> Callable[[], list[Shape]]:
    """The foot up off the plate, once for each arrow."""

    def drawn() -> list[Shape]:
        shoe: list[Shape] = [Poly(((9, -8), (10, 8), (-30, 8), (-32, 4), (-26, 0), (-14, -3), (-8, -9)), fill=0.5)]
        shin = joined([limb((1, -24), 9, (1, -6), 8)])
        ways = [piece for i in range(times) for piece in arrow([(-44 - 10 * i, 12), (-44 - 10 * i, -14)], 2.2, 8)]
        return [Line(-34, 16, 16, 16, 3.0, 0.3), *turned([*shin, *shoe], 12), *ways]

    return drawn


_SIGN: Mapping[str, Callable[[], list[Shape]]] = {
    "yes_eyes_up": _eyes_up,
    "yes_foot_up": _foot_up(1),
    "no_eyes_shut": _eyes_shut_then_open,
    "no_foot_up_twice": _foot_up(2),
    "stop_calls_looks_down": lambda: _face("down", "calls"),
    "stop_shouts": lambda: _face("open", "calls"),
}


# ---- at the body ----------------------------------------------------------------------------------


def _leg_bag() -> list[Shape]:
    """The bag at the lower leg: the tube bent, and straight with the strap open and the tap below open."""

    def leg(tube: Sequence[tuple[float, float]], strap: bool) -> list[Shape]:
        limbs = joined([limb((0, 0), 10, (0, 56), 7), limb((0, -2), 11, (26, -6), 11)])
        bag: list[Shape] = [Rect(-17, 16, 14, 28, fill=0.75, radius=4), Line(-10, 44, -10, 50, 3.0)]
        line: list[Shape] = [Poly(tuple(tube), closed=False, width=2.4)]
        straps: list[Shape] = (
            [Line(-18, 22, 9, 22, 3.0)] if strap else [Line(-18, 22, -24, 14, 3.0), Line(9, 22, 16, 14, 3.0)]
        )
        return [*limbs, *bag, *straps, *line]

    bent = leg([(20, -12), (-10, -14), (-18, 2), (-3, 2), (-10, 16)], True)
    straight = leg([(20, -12), (-10, -14), (-10, 16)], False)
    drops: list[Shape] = [oval(-10, 55 + 6 * i, 1.6, 2.4, 0.2) for i in range(2)]
    left, other = scaled(bent, _LEG), scaled([*straight, *drops], _LEG)
    return [*left, *wrong(20, 38), *moved(other, 1, 60), *right(80, 38)]


def _cuff() -> list[Shape]:
    """A cuff round the upper arm of one who sits, its tube and its display."""
    band: list[Shape] = [Rect(-32, -390, 118, 130, fill=0.3, radius=20, width=_WIDTH)]
    tube: list[Shape] = [Poly(((-30, -320), (-190, -330), (-280, -420)), closed=False, width=2.0)]
    shown: list[Shape] = [
        Rect(-470, -560, 230, 150, fill=0.97, radius=16, width=1.4),
        Line(-430, -485, -370, -485, 2.6),
        Line(-340, -485, -280, -485, 2.6),
    ]
    body = joined(
        [limb((0, 0), 102, (30, -370), 98), limb((26, -430), 52, (10, -560), 46), limb((0, 0), 88, (-300, -10), 70)]
    )
    whole = seated()
    return scaled([*body, whole[-3], whole[-2], whole[-1], *seated_arm(), *band, *tube, *shown], 0.068)


def _legs_up() -> list[Shape]:
    """One who is tilted back, the lower legs lifted by two hands."""
    seat: list[Shape] = [
        Rect(-360, 90, 470, 60, fill=0.85, radius=12, width=_WIDTH),
        Poly(((125, 120), (165, -600), (210, -600), (180, 140)), fill=0.85, width=_WIDTH),
    ]
    lain = turned([*seat, *seated(shin_deg=75), *seated_arm()], 25)
    helper = moved(standing([(-590, -880)], lean_mm=200), -1, -1260, 760)
    shapes = [*lain, *helper, *arrow([(-600, 60), (-600, -180)], 2.4, 150)]
    return scaled(shapes, _SCALE)


def _mouthpiece() -> list[Shape]:
    """A mouthpiece that is put on the end of the tube, the tube without a bend."""
    return [
        Rect(0, 18, 44, 6, fill=0.85),
        Rect(64, 14, 22, 14, fill=0.2, radius=4),
        *arrow([(82, 6), (50, 6)], 2.0, 7),
        Rect(84, 12, 34, 18, fill=0.94, radius=8),
        Line(96, 18, 116, 18, 1.0),
        Line(96, 24, 116, 24, 1.0),
    ]


def _heel_pendant() -> list[Shape]:
    """A foot on its plate, the pendant strapped at the heel, and the way that the heel presses."""
    shoe: list[Shape] = [Poly(((9, -8), (10, 8), (-30, 8), (-32, 4), (-26, 0), (-14, -3), (-8, -9)), fill=0.5)]
    shin = joined([limb((1, -24), 9, (1, -6), 8)])
    pendant: list[Shape] = [Rect(12, -6, 8, 16, fill=0.95, radius=2), Circle(16, 2, 2.6, fill=0.1)]
    return [Line(-34, 10, 24, 10, 3.0, 0.3), *shin, *shoe, *pendant, *arrow([(-8, 20), (12, 20)], 2.2, 8)]


_AT_BODY: Mapping[str, Callable[[], list[Shape]]] = {
    "leg_bag": _leg_bag,
    "cuff": _cuff,
    "legs_up": _legs_up,
    "mouthpiece": _mouthpiece,
    "heel_pendant": _heel_pendant,
}


# ---- at the chair ---------------------------------------------------------------------------------


def _pushed(case: Case) -> list[Shape]:
    """A helper behind it with the hands at its push handles, and the way it goes."""
    size = sizes_of(case.configuration.chair)
    floor = size.leg + 90
    helper = moved(standing([(-330, -floor - size.back)], lean_mm=150), 1, 520, floor)
    chair = [*chair_from_left(size), *driver_from_left(size), *armrest_from_left(size)]
    shapes = scaled([Line(-900, floor, 760, floor, 1.2, 0.3), *chair, *helper], _SCALE)
    left, top, _, _ = bounds(shapes)
    return [*shapes, *arrow([(left + 34, top + 8), (left + 6, top + 8)], 2.4, 9)]


def _charger(out: float) -> list[Shape]:
    """The socket of the chair, the plug of the charger so many points out of it, its box with a lamp."""
    return [
        Rect(0, 8, 10, 30, fill=0.6),
        *(Rect(10, y, out, 3, fill=0.25) for y in (17, 26) if out),
        Rect(10 + out, 14, 12, 18, fill=0.25, radius=3),
        Poly(((22 + out, 23), (30 + out, 23), (30 + out, 36), (34, 36)), closed=False, width=2.4),
        Rect(32, 28, 18, 16, fill=0.9, radius=2),
        Circle(41, 36, 3, fill=0.2),
    ]


def _jack(out: float, device: bool) -> list[Shape]:
    """A small plug at the chair, or at a device with a screen."""
    body: list[Shape] = (
        [
            Rect(0, 4, 26, 36, fill=0.9, radius=3),
            *(Rect(4 + 10 * x, 9 + 10 * y, 7, 7, fill=1.0) for x in (0, 1) for y in (0, 1)),
        ]
        if device
        else [Rect(0, 8, 18, 30, fill=0.6), Circle(9, 16, 4, fill=0.9)]
    )
    at = (26 if device else 18) + out
    pin: list[Shape] = [Rect(at - out, 26, out, 3, fill=0.25)] if out else []
    return [*body, *pin, Rect(at, 23, 11, 9, fill=0.2, radius=3), Line(at + 11, 27.5, 50, 27.5, 2.0)]


_PLUGS: Mapping[str, Sequence[Sequence[Shape]]] = {
    "switch_plug": [_jack(0.0, False), _jack(0.0, True)],
    "device_plug": [[*_jack(15.0, True), *arrow([(30, 14), (50, 14)], 2.0, 7)], _jack(0.0, True)],
}
