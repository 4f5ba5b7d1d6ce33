"""A part of the control that swings away: the catch that is pressed or the lever that is turned first, then the way
that the hand takes it out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from docgen.case.model import Case
from docgen.figures.strokes import arrow, moved, turned
from docgen.figures.switch_ways import pair_of, round_arrow
from docgen.scene import Circle, Rect, Scene, Shape

_JOINT = (10.0, 38.0)  # where it turns, in a drawing of about 52 by 46 points
_OUT_DEG = 60.0


def swing_pair(case: Case, words: Mapping[str, str]) -> Scene | None:
    """Let go and swung out, seen from above; None where the record does not say what lets it swing."""
    looks = case.configuration.swing_looks
    if looks is None or not any(mount.swings for mount in case.configuration.mounting):
        return None
    part, let_go = (_PAD, arrow([(26, 4), (26, 22)], 2.0, 7)) if looks == "catch" else (_TUBE, _LEVER_TURNED)
    drawn = [[*_at_joint(part, 0.0), *let_go], [*_at_joint(part, _OUT_DEG), *round_arrow(10, 38, 34, 2, 40)]]
    return pair_of("", words["swing_out"], drawn, (words[f"way_{looks}"], words["way_swung"]))


def _at_joint(part: Sequence[Shape], degrees: float) -> list[Shape]:
    return [*moved(turned(list(part), -degrees), 1, *_JOINT), Circle(*_JOINT, 4.5, fill=1.0, width=1.4)]


# from the joint to the right: an arm with a pad in front of it and the catch behind the pad, toward the hand
_PAD: list[Shape] = [
    Rect(0, -4, 30, 6, fill=0.85),
    Rect(8, -13, 22, 8, fill=0.2, radius=2),
    Rect(6, 2, 34, 9, fill=0.6, radius=4),
]
# an arm with the mouthpiece at its end, and the lever across the joint
_TUBE: list[Shape] = [
    Rect(0, -3, 34, 6, fill=0.85),
    Rect(34, -2, 8, 4, fill=0.2, radius=1),
    Rect(-3, -20, 6, 20, fill=0.2, radius=3),
]
_LEVER_TURNED = round_arrow(10, 38, 27, 92, 38)
