"""Outlines of a head, a foot, a hand and a knee in mm round their middle, from above (front upwards) and from the left
(front to the left).

x to the right, y downwards. A right limb is the mirror image of a left one. The bodies are outlines, not this person's.
Head: medians of the 2012 US Army survey (Gordon et al. 2014, NATICK/TR-15/007), computed from its public data, where
the case has no size of its own. All other sizes: round figures from memory; they only size the drawing.
"""

from __future__ import annotations

import math

from msgspec import Struct

Point = tuple[float, float]
Outline = tuple[Point, ...]

HEAD_MM, HEAD_HIGH_MM = (151.0, 195.0), 230.0
MOST_HEAD_MM = (180.0, 225.0)  # the largest drawn: the largest of the same survey
EAR = (-5.0, 30.0)  # the ear from front to back, from the middle of the head
EAR_Y, MOUTH_Y, CHIN_Y, CHEEK_Y, CHEEK_FORWARD = (
    10.0,
    53.0,
    92.0,
    30.0,
    45.0,
)  # heights below the middle of the head; the cheek from above
NAPE_Y = 75.0  # the nape below it
NECK_BACK = 0.8  # how far the nape stands behind the middle, of half the length of the head
LIPS_AHEAD = 1.04  # how far the lips stand ahead of the middle, of half the length of the head
EAR_HIGH = 32.0  # half its height
FINGER_W = 19.0


class Body(Struct, frozen=True):
    """One part of the body.

    above, side   its outline in both views; gaps are measured from it
    under         drawn before the outline in the view from above: ears, nose, thumb and fingers
    above_more, side_more  drawn after it: lines inside it
    """

    above: Outline
    side: Outline
    under: tuple[Outline, ...] = ()
    above_more: tuple[Outline, ...] = ()
    side_more: tuple[Outline, ...] = ()


def head(width_mm: float, length_mm: float, with_lips: bool) -> Body:
    """A head of that size with nose, ears, mouth, chin and neck; from above it shows the lips in place of the nose when
    `with_lips`."""
    w, n = width_mm / 2, length_mm / 2
    skull = tuple(_egg(math.tau * i / 48, w, n) for i in range(48))
    lips = -n * LIPS_AHEAD
    mouth: Outline = ((-20, -n + 3), (-8, lips), (0, -n * 1.025), (8, lips), (20, -n + 3), (0, -n + 7))
    nose: Outline = ((-13, -n + 4), (0, -n - 20), (13, -n + 4))
    ears = tuple(_oval(side * (w + 3), sum(EAR) / 2, 12, (EAR[1] - EAR[0]) / 2) for side in (-1, 1))
    profile = (
        (0, -1),
        (-0.4, -0.95),
        (-0.72, -0.77),
        (-0.92, -0.5),
        (-0.97, -0.27),
        (-1, -0.17),
        (-0.94, -0.06),
        (-1.18, 0.2),
        (-1.15, 0.27),
        (-1, 0.31),
        (-1.04, 0.41),
        (-0.96, 0.46),
        (-1.03, 0.53),
        (-0.94, 0.62),
        (-1, 0.8),
        (-0.85, 1),
        (-0.3, 0.82),
        (-0.12, 0.9),
        (-0.1, 1.3),
        (0.6, 1.3),
        (0.58, 0.8),
        (0.8, 0.6),
        (0.96, 0.25),
        (1, -0.1),
        (0.94, -0.45),
        (0.73, -0.78),
        (0.4, -0.95),
    )
    ear = _oval(sum(EAR) / 2, EAR_Y, (EAR[1] - EAR[0]) / 2, EAR_HIGH)
    high = HEAD_HIGH_MM / 2
    return Body(
        skull,
        rounded(tuple((x * n, y * high) for x, y in profile)),
        (*ears, *(() if with_lips else (nose,))),
        (mouth,) if with_lips else (),
        (
            ear,
            ((4, -8), (14, -14), (21, -6), (18, 10), (9, 20), (5, 14)),
            ((-0.78 * n, -14), (-0.66 * n, -18), (-0.6 * n, -12), (-0.72 * n, -9)),
            ((-0.96 * n, MOUTH_Y), (-0.74 * n, MOUTH_Y + 3), (-0.96 * n, MOUTH_Y)),
        ),
    )


def _egg(turn: float, w: float, n: float) -> Point:
    """A head from above: an ellipse in front, fuller behind."""
    x, y = math.sin(turn), -math.cos(turn)
    power = 2.0 if y <= 0 else 2.4
    r = (abs(x) ** power + abs(y) ** power) ** (-1 / power)
    return x * r * w, y * r * n


def _oval(x: float, y: float, rx: float, ry: float) -> Outline:
    return tuple((x + rx * math.cos(math.tau * i / 24), y + ry * math.sin(math.tau * i / 24)) for i in range(24))


def rounded(outline: Outline, n_times: int = 2) -> Outline:
    """The closed outline with its corners cut so many times, a quarter of each edge off either end (Chaikin 1974)."""
    for _ in range(n_times):
        pairs = zip(outline, (*outline[1:], outline[0]), strict=True)
        outline = tuple(
            point
            for (ax, ay), (bx, by) in pairs
            for point in (
                (0.75 * ax + 0.25 * bx, 0.75 * ay + 0.25 * by),
                (0.25 * ax + 0.75 * bx, 0.25 * ay + 0.75 * by),
            )
        )
    return outline


def _finger(x: float, tip: float) -> Outline:
    """A finger from its round tip down to the palm."""
    r = FINGER_W / 2
    arc = tuple((x + r * math.cos(a), tip + r + r * math.sin(a)) for a in (math.pi + math.pi * i / 8 for i in range(9)))
    return (*arc, (x + r, 0), (x - r, 0))


# left foot in a shoe: the big toe is to the right
FOOT = Body(
    above=rounded(
        tuple(
            (x * 50, y * 132)
            for x, y in (
                (0, 1),
                (0.4, 0.96),
                (0.62, 0.78),
                (0.58, 0.35),
                (0.74, -0.2),
                (0.95, -0.48),
                (1, -0.72),
                (0.9, -0.91),
                (0.66, -0.995),
                (0.4, -1),
                (0.1, -0.96),
                (-0.35, -0.87),
                (-0.72, -0.73),
                (-0.95, -0.5),
                (-1, -0.25),
                (-0.9, 0.1),
                (-0.72, 0.45),
                (-0.65, 0.78),
                (-0.42, 0.96),
            )
        )
    ),
    side=rounded(
        (
            (-132, 38),
            (-131, 22),
            (-118, 6),
            (-85, -4),
            (-30, -22),
            (0, -50),
            (12, -95),
            (96, -95),
            (100, -30),
            (118, -5),
            (131, 20),
            (132, 45),
            (-122, 45),
        )
    ),
    above_more=(_oval(2, 72, 23, 42),),  # where the leg goes in
    side_more=(((-122, 36), (131, 36)),),
)
FOOT_LONG_MM = 264.0
TOE_X, SOLE_Y = 30.0, 45.0  # the big toe from the middle of the foot; the sole below it

# left hand, palm down: the thumb is to the right
FINGERS = {
    "little": (-32.0, -58.0),
    "ring": (-11.0, -80.0),
    "middle": (11.0, -88.0),
    "index": (32.0, -76.0),
}  # middle and tip
HAND = Body(
    above=rounded(((-43, -4), (43, -4), (45, 25), (42, 60), (30, 95), (-28, 95), (-40, 60), (-45, 20)), 1),
    side=rounded(((-90, 4), (-84, -4), (-20, -9), (20, -18), (92, -18), (92, 14), (15, 14), (-20, 10), (-84, 10))),
    under=(
        *(_finger(x, tip) for x, tip in FINGERS.values()),
        ((36, 50), (55, 5), (64, -6), (72, -4), (74, 6), (66, 30), (42, 72)),
    ),
)

# left knee, bent: thigh backwards, shin down; its outer side is to the left
KNEE_AT = -72.0  # the joint from the middle, from above
KNEE = Body(
    above=rounded(
        ((-57, 45), (-55, -55), (-48, -85), (-28, -102), (0, -107), (28, -102), (48, -85), (55, -55), (57, 45))
    ),
    side=rounded(
        (
            (105, -62),
            (-20, -62),
            (-48, -50),
            (-60, -25),
            (-58, 5),
            (-50, 40),
            (-48, 88),
            (26, 88),
            (34, 55),
            (36, 34),
            (105, 40),
        )
    ),
    above_more=(_oval(0, -78, 22, 20),),
    side_more=(((-50, -34), (-38, -40), (-30, -25), (-36, -2), (-48, -4)),),
)
KNEE_SIDE = (-14.0, -14.0)  # the joint seen from the side
THIGH_UNDER_Y = 37.0  # the underside of the thigh, which lies on the cushion


def mirrored(outline: Outline) -> Outline:
    return tuple((-x, y) for x, y in outline)


def reach(outline: Outline, side: str, low: float, high: float) -> tuple[float, float]:
    """How far the outline comes out to a side between two places along it, and where: (x, y at it) for left and right,
    else (y, x at it).

    Outside the outline's own range it is measured at the nearest end of it.
    """
    along, out = (1, 0) if side in ("left", "right") else (0, 1)
    sign = -1 if side in ("left", "front", "above") else 1
    ends = [point[along] for point in outline]
    low, high = min(max(low, min(ends)), max(ends)), min(max(high, min(ends)), max(ends))
    crossings: list[tuple[float, float]] = []
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        (first, from_out), (last, to_out) = (a[along], a[out]), (b[along], b[out])
        if first == last:
            crossings += [(from_out, first), (to_out, first)] if low <= first <= high else []
            continue
        inside = (
            at for at in (first, last, low, high) if low <= at <= high and min(first, last) <= at <= max(first, last)
        )
        crossings += [(from_out + (at - first) / (last - first) * (to_out - from_out), at) for at in inside]
    return max(crossings, key=lambda crossing: sign * crossing[0])
