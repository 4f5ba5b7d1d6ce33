"""How somebody is moved without the chair: in a sling, in the arms of a helper, between two, on a blanket or a rescue
sheet along the floor."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from docgen.figures.panels import Box, bounds, lettered, panel
from docgen.figures.people import arm, lying, seated, seated_arm, standing
from docgen.figures.rider import scaled
from docgen.figures.strokes import arrow, moved, ringed, turned
from docgen.scene import Circle, Line, Poly, Rect, Scene, Shape

_SCALE, _CLOTH, _WIDTH = 0.044, 0.75, 1.1


def carried_panels(acts: Sequence[str], words: Mapping[str, str]) -> list[Scene]:
    """A panel of each of these acts that is one of moving somebody, under its words."""
    return [_named(act, draw(), words) for act, draw in _DRAWN.items() if act in acts]


def _named(act: str, shapes: Sequence[Shape], words: Mapping[str, str]) -> Scene:
    """The drawing under its words, no wider than it is, or than the words need."""
    left, top, right, _ = bounds(shapes)
    title, y = lettered(0.0, 0.0, words[f"hands_{act}"], max(right - left, 124.0), True)
    return panel([*title, *moved(shapes, 1, -left, y - 8 - top)], words[f"hands_{act}_alt"])


def _floor(box: Box, y: float) -> Line:
    return Line(box[0] - 60, y, box[2] + 60, y, 1.2, 0.3)


def _in_sling(head_held: bool) -> list[Shape]:
    """The sling on the one who sits; beside it, its loops on the hooks of the bar, and the way up.

    head_held  a hand of a helper is at the head meanwhile
    """
    seat: list[Shape] = [
        Rect(-360, 105, 470, 60, fill=0.9, radius=12, width=_WIDTH),
        Poly(((140, 130), (180, -420), (225, -420), (195, 150)), fill=0.9, width=_WIDTH),
    ]
    loops: list[Shape] = [Line(40, -480, -10, -330, 3.2, 0.1), Line(-310, 50, -300, -120, 3.2, 0.1)]
    on = scaled([*seat, *seated(), *_SLING, *loops, *seated_arm()], _SCALE)
    bar: list[Shape] = [
        Line(-150, -1080, -150, -980, 4.0, 0.1),
        Line(-330, -960, 60, -960, 5.0, 0.1),
        Circle(-150, -965, 26, fill=0.4, width=_WIDTH),
        *(Circle(x, -945, 26, fill=1.0, width=1.6) for x in (-330, 60)),
    ]
    straps: list[Shape] = [Line(60, -930, 50, -470, 3.2, 0.1), Line(-330, -930, -310, 50, 3.2, 0.1)]
    hand = arm((430.0, -760.0), (95.0, -640.0)) if head_held else []
    lifted = scaled([*bar, *seated(), *_SLING, *straps, *seated_arm(), *hand], _SCALE)
    apart = bounds(on)[2] - bounds(lifted)[0] + 24
    low, top = bounds(lifted)[3] - 4, bounds(lifted)[1]
    drawn = [*moved(on, 1, 0, 4), *moved(lifted, 1, apart), *arrow([(apart + 14, low), (apart + 14, low - 24)], 2.2, 8)]
    return [*drawn, *ringed(bounds(on)[0] + 10, top + 10, "1"), *ringed(apart - 32, top + 10, "2")]


# its cloth, behind the back and under the thighs, its side seen
_SLING: tuple[Shape, ...] = (
    Poly(
        ((30, -500), (108, -470), (122, 30), (100, 90), (20, 118), (-330, 88), (-330, 10), (-60, 20), (-20, -60)),
        fill=0.4,
        width=_WIDTH,
    ),
)


def _in_arms() -> list[Shape]:
    """A helper who carries a child across both arms, seen from the side of the child's feet to head."""
    child = scaled(turned([*seated(shin_deg=20), *seated_arm()], 20), 0.8)
    rider = moved(child, 1, -390, -850)
    front = arm((0.0, -1330.0), (-520.0, -800.0))
    shapes = [*standing([]), *rider, *front]
    return scaled([_floor(bounds(shapes), 0), *shapes], _SCALE)


def _by_two() -> list[Shape]:
    """One who sits between two helpers: one holds the upper body from behind, one the legs."""
    rider = moved(turned([*seated(shin_deg=30), *seated_arm()], 18), 1, 0, -760)
    at_head = standing([(-420, -1010)], lean_mm=140)
    at_legs = standing([(-330, -800)], lean_mm=160)
    shapes = [*moved(at_legs, -1, -830), *rider, *moved(at_head, 1, 470)]
    return scaled([_floor(bounds(shapes), 0), *shapes], _SCALE)


def _dragged(strapped: bool) -> list[Shape]:
    """One who lies on it, drawn along the floor at the end of the head by a helper who walks ahead."""
    on: list[Shape] = [Poly(((-880, 150), (-880, 100), (760, 100), (860, 40), (860, 150)), fill=_CLOTH, width=_WIDTH)]
    straps: list[Shape] = [Line(x, 110, x, -100, 4.0, 0.1) for x in (230, -150, -600)] if strapped else []
    pulled: list[Shape] = [Line(850, 60, 1130, -430, 3.0, 0.1)]
    helper = moved(standing([(-350, -590)], lean_mm=240, crouch_mm=120), 1, 1480, 160)
    way = arrow([(1560, -700), (1980, -700)], 2.4, 160)
    shapes = [*on, *moved(lying(), 1), *straps, *helper, *pulled, *way]
    return scaled([_floor(bounds(shapes), 160), *shapes], _SCALE)


def _sheet_by_two() -> list[Shape]:
    """One who lies strapped on the sheet, a helper at each end of it."""
    on: list[Shape] = [
        Poly(
            ((-950, -40), (-880, 100), (760, 100), (860, -40), (860, 0), (780, 150), (-900, 150), (-950, 0)),
            fill=_CLOTH,
            width=_WIDTH,
        )
    ]
    straps: list[Shape] = [Line(x, 110, x, -100, 4.0, 0.1) for x in (230, -150, -600)]
    at_head = moved(standing([(-330, -560)], lean_mm=180, crouch_mm=100), 1, 1130, 540)
    at_feet = moved(standing([(-330, -560)], lean_mm=180, crouch_mm=100), -1, -1220, 540)
    shapes = [*on, *lying(), *straps, *at_head, *at_feet]
    return scaled([_floor(bounds(shapes), 540), *shapes], _SCALE)


_DRAWN = {
    "sling": lambda: _in_sling(False),
    "sling_head": lambda: _in_sling(True),
    "in_arms": _in_arms,
    "by_two": _by_two,
    "blanket": lambda: _dragged(False),
    "sheet": lambda: _dragged(True),
    "sheet_by_two": _sheet_by_two,
}
