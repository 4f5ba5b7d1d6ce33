"""Helpers and the person they care for, from the left, in mm: a helper stands in gray clothes, the one cared for is
white. Sizes are round figures from memory; they only size the drawing."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.figures.rider import Point, head_from_left, joined, limb, shoe_from_left
from docgen.figures.strokes import moved, turned
from docgen.scene import Poly, Shape

_CLOTHES, _SHOE, _WIDTH = 0.6, 0.3, 1.1


def standing(hands: Sequence[Point], lean_mm: float = 0.0, crouch_mm: float = 0.0) -> list[Shape]:
    """A helper who faces left, the floor at y = 0 and the heels at x = 0, with an arm to each of the hands.

    lean_mm    how far the shoulders stand ahead of the hips
    crouch_mm  how far the hips are lower than upright
    """
    hip = (crouch_mm * 0.5, -840.0 + crouch_mm)
    up = (490.0**2 - min(lean_mm, 470.0) ** 2) ** 0.5
    shoulder = (hip[0] - lean_mm, hip[1] - up)
    ahead = lean_mm / 490
    knee = (-30.0 - crouch_mm * 0.5, -430.0 + crouch_mm * 0.15)
    legs = [limb(hip, 95, knee, 66), limb(knee, 62, (0.0, -80.0), 44)]
    trunk = [limb(hip, 106, shoulder, 102)]
    neck_to = (shoulder[0] - 40 - 190 * ahead, shoulder[1] - 130 + 90 * ahead)
    head_at = (shoulder[0] - 60 - 260 * ahead, shoulder[1] - 235 + 130 * ahead)
    foot: list[Shape] = [Poly(shoe_from_left(), fill=_SHOE, width=_WIDTH)]
    return [
        *moved(foot, 1, 20.0, -62.0),
        *joined(legs, _CLOTHES),
        *joined([limb(shoulder, 50, neck_to, 44)]),
        *joined(trunk, _CLOTHES),
        *moved(turned(head_from_left(), -30 * ahead), 1, *head_at),
        *(piece for hand in hands for piece in arm(shoulder, hand)),
    ]


def arm(shoulder: Point, hand: Point) -> list[Shape]:
    """An arm in a sleeve from the shoulder to the hand, the elbow a little below the straight line."""
    elbow = ((shoulder[0] + hand[0]) / 2 + 30, (shoulder[1] + hand[1]) / 2 + 60)
    palm = limb((hand[0] + (elbow[0] - hand[0]) * 0.12, hand[1] + (elbow[1] - hand[1]) * 0.12), 30, hand, 34)
    return [*joined([limb(shoulder, 52, elbow, 42), limb(elbow, 42, hand, 32)], _CLOTHES), *joined([palm])]


def seated(shin_deg: float = 0.0) -> list[Shape]:
    """One who sits and faces left, round the hips, without the arm.

    shin_deg  how far the lower legs are lifted to the front
    """
    knee = (-410.0, -10.0)
    shin = [limb((0, 0), 58, (-20, 370), 40)]
    foot: list[Shape] = [Poly(shoe_from_left(), fill=0.5, width=_WIDTH)]
    lower = turned([*joined(shin), *moved(foot, 1, -20, 370)], shin_deg)
    body = [limb((0, 0), 102, (30, -370), 98), limb((26, -430), 52, (10, -560), 46), limb((0, 0), 88, knee, 62)]
    return [*moved(lower, 1, *knee), *joined(body), *moved(head_from_left(), 1, 0, -655)]


def seated_arm() -> list[Shape]:
    """The arm of the same, the hand in the lap."""
    return joined([limb((35, -430), 50, (20, -190), 40), limb((20, -190), 38, (-210, -95), 28)])


def lying() -> list[Shape]:
    """One who lies on the back, the head to the right, round the hips."""
    legs = [limb((0, 0), 88, (-410, -20), 62), limb((-410, -20), 58, (-790, 20), 42)]
    foot: list[Shape] = turned([Poly(shoe_from_left(), fill=0.5, width=_WIDTH)], 80)
    return [
        *moved(foot, 1, -800, 10),
        *joined([*legs, limb((0, 0), 100, (380, 0), 98), limb((430, 0), 50, (530, 0), 46)]),
        *moved(turned(head_from_left(), 90), 1, 640, -10),
        *joined([limb((400, -30), 50, (170, -20), 40), limb((170, -20), 38, (-30, -70), 28)]),
    ]
