"""Where each of several controls is: the same driver from above once for each, the part that is worked in black.

The same size, view and person for each. The exact place is not shown, and a hand or a foot stands for either: nobody
has measured them.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from docgen.figures.chair import chair_from_above
from docgen.figures.rider import scaled
from docgen.figures.strokes import moved, oval, ringed
from docgen.scene import Circle, Line, Poly, Rect, Scene, Shape

WIDTH = 490.0
_HEIGHT, _SCALE, _Y = 112.0, 0.62, 59.0
_PUSHED = frozenset({"force_graded_speed", "force_threshold_pad", "isometric_joystick", "contact_switch_sensing"})
_HAND, _FOOT = (48.5, -42.0), (19.0, -78.0)


def side_by_side(controls: Sequence[tuple[str, Sequence[str], Collection[str]]], words: str) -> Scene:
    """Drivers beside one another.

    controls  letter, sites of the body, and features that drive it
    words     what the drawing shows, for who cannot see it; each letter with its sites follows
    """
    width = WIDTH / max(len(controls), 1)
    shapes: list[Shape] = []
    for at, (letter, sites, drives) in enumerate(controls):
        x = width * (at + 0.5)
        shapes += [*chair_from_above(x, _Y, _SCALE), *moved(scaled(_parts(sites, {*drives}), _SCALE), 1, x, _Y)]
        shapes += ringed(x - 56, 12, letter)
    places = "; ".join(f"{letter}: {' and '.join(sites)}" for letter, sites, _ in controls)
    return Scene(WIDTH, _HEIGHT, f"{words} {places}.", tuple(shapes))


def _parts(sites: Sequence[str], drives: Collection[str]) -> list[Shape]:
    """What is worked, in black, at each site."""
    shapes: list[Shape] = []
    for site in sites:
        match site:
            case "head" if "chin" not in sites:
                shapes += _at_head(sites, drives)
            case "mouth":
                shapes += [Line(0, -44, 0, -14, 3.0), Circle(0, -13, 3.4, fill=0.0)]
            case "chin":
                shapes += [Line(0, -44, 0, -14, 3.0), Circle(0, -13, 6.0, fill=0.0, stroke=1.0)]
            case "hand" if "finger_switch_array" in drives:
                x, y = _HAND
                shapes += [Rect(x - 8 + 4.4 * n, y - 12, 3.2, 8, fill=0.0, stroke=None) for n in range(4)]
            case "hand":
                shapes += [Circle(_HAND[0], _HAND[1] - 6, 6.5, fill=0.0, stroke=1.0)]
            case "foot":
                shapes += [Circle(*_FOOT, 6.5, fill=0.0, stroke=1.0)]
    return shapes


def _at_head(sites: Sequence[str], drives: Collection[str]) -> list[Shape]:
    """Pads behind and beside the head, a band round it where its angle is sensed, pads at the sides alone where the
    breath does the rest."""
    if "head_angle_proportional" in drives:
        return [oval(0, 16, 18, 22, fill=None, width=3.6)]
    if not _PUSHED.isdisjoint(drives):  # the head touches it, and an arrow stands for the push
        behind = Rect(-14, 36, 28, 7, fill=0.0, stroke=None, radius=2)
        arrow = Poly(((-7, 23), (7, 23), (0, 34)), fill=0.0, stroke=None)
        return [behind, arrow, Line(0, 8, 0, 24, 3.0)]
    beside: list[Shape] = [
        Rect(-32, 8, 6, 20, fill=0.0, stroke=None, radius=2),
        Rect(26, 8, 6, 20, fill=0.0, stroke=None, radius=2),
    ]
    behind = Rect(-12, 44, 24, 6, fill=0.0, stroke=None, radius=2)
    return beside if "mouth" in sites else [behind, *beside]
