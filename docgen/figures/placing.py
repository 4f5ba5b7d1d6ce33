"""Where each part of a control stands at the part of the body it is for, in mm, as far as the mounting record tells.

Across its face a part keeps its recorded gap from the outline of the body. Along the body it stands as far from the
other parts as the record has it; where the record names a landmark alone, it stands there.

`PLACES` names, for each site, what the record must hold before a part is drawn there.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from docgen.case.mount import Mount
from docgen.figures.outlines import (
    CHEEK_FORWARD,
    CHEEK_Y,
    CHIN_Y,
    EAR,
    EAR_HIGH,
    EAR_Y,
    FINGERS,
    FOOT_LONG_MM,
    HEAD_HIGH_MM,
    HEAD_MM,
    KNEE_AT,
    KNEE_SIDE,
    LIPS_AHEAD,
    MOUTH_Y,
    NAPE_Y,
    SOLE_Y,
    THIGH_UNDER_Y,
    TOE_X,
)

_SIZE_MM = 40.0  # of a part whose size is not recorded
_MOST_MM, _MOST_STICK_MM = 160.0, 60.0  # the largest drawn of a pad and of what stands up
_KNEE_HIGH_MM, _FOOT_WIDE_MM = 60.0, 60.0  # further from the middle of a knee or a foot nothing is drawn at it
_HEIGHTS = {"mouth": MOUTH_Y, "chin": CHIN_Y, "cheek": CHEEK_Y, "skull_base": NAPE_Y}
_CLEAR_MM = 4.0  # between the ear and a part that the record puts beside it


class Place(Struct, frozen=True):
    """What the record must hold to draw a part of a site.

    body    part of the body drawn
    side    side of it that the site stands for by itself; None where the case must say it
    near    places along it that the case may name; empty where the site says enough by itself
    limb    whether the case must say left or right
    most_gap_mm  a wider gap does not fit on the sheet
    """

    body: str
    side: str | None = None
    near: tuple[str, ...] = ()
    limb: bool = False
    most_gap_mm: float = 70.0


_EARS = ("behind_ear", "before_ear", "below_ear")
_FINGERS = ("index_finger", "index_and_middle_fingers", "fingers", "thumb", "palm")
_FOOT = ("big_toe", "toes", "middle_of_foot", "heel")
PLACES = {
    "head_back": Place("head", "back"),
    "skull_base": Place("head", "back"),
    "head_left": Place("head", "left", _EARS),
    "head_right": Place("head", "right", _EARS),
    "mouth": Place("head", "front"),
    "chin": Place("head", "front"),
    "cheek": Place("head"),
    "hand": Place("hand", near=_FINGERS, limb=True),
    "knee": Place("knee", limb=True),
    "foot": Place("foot", near=_FOOT, limb=True, most_gap_mm=40.0),
}


class Drawn(Struct, frozen=True):
    """A part as it is drawn: its number, its side, its extent along the body and its size, all in mm.

    along    where its middle is from front to back, from above, front negative; across  from left to right
    up       where its middle is in height, downwards
    long, high, wide   its extent from front to back, in height and from left to right
    """

    number: int
    mount: Mount
    side: str
    along: float
    across: float
    up: float
    long: float
    high: float
    wide: float
    round: bool
    stands: bool


def lacking(mount: Mount) -> str | None:
    """The word for what the record lacks to draw this part; None when it can be drawn."""
    place = PLACES.get(mount.site)
    if place is None:
        return "no_picture"
    near = (
        place.near and mount.near not in place.near and not (mount.site == "foot" and mount.side in ("front", "back"))
    )
    if not (mount.side or place.side) or near or (place.limb and mount.limb is None):
        return "no_place"
    if mount.gap_mm is None:
        return None if mount.touches else "no_gap"
    return "no_room" if mount.gap_mm > place.most_gap_mm else None


def _sizes(mount: Mount) -> tuple[float, float, bool, bool]:
    """Both sizes of a part in mm, whether it is round, and whether it stands up."""
    first = mount.wide_mm or _SIZE_MM
    second = mount.tall_mm or first
    is_round = mount.shape != "flat"
    stands = is_round and mount.tall_mm is not None
    most = _MOST_STICK_MM if stands else _MOST_MM
    return min(first, most), min(second, most), is_round, stands


def placed(
    name: str,
    limb: str | None,
    mounts: Sequence[tuple[int, Mount]],
    head_long_mm: float = HEAD_MM[1],
    cushion_mm: float | None = None,
) -> Iterator[Drawn]:
    """Each part at its recorded distance from the others, or at the place that its site and landmark stand for.

    head_long_mm  length of the drawn head
    cushion_mm    top of the loaded cushion above the zero of the heights; None where that is not recorded
    """
    parts = [mount for _, mount in mounts]
    level = _level(parts) if name == "head" else None
    back = _back_of_head(parts, head_long_mm) if name == "head" else None
    heel = _heel(parts) if name == "foot" else None
    outer = -1 if limb == "left" else 1
    for number, mount in mounts:
        side = mount.side or PLACES[mount.site].side or ""
        first, second, is_round, stands = _sizes(mount)
        wide, across = first, 0.0
        match name:
            case "head":
                along, up = _at_head(mount, first, second, level)
                if back is not None and side in ("left", "right") and mount.depth_mm is not None:
                    along = _within(head_long_mm / 2 - (mount.depth_mm - back), head_long_mm / 2)
            case "foot":
                along, across, up = _at_foot(mount, outer, second, stands)
                if heel is not None:
                    along, across = _from_heel(mount, heel, side, along, across)
            case "hand":
                (across, along), up, wide = _at_hand(mount, outer, first), 0.0, second
            case _:
                along, up = KNEE_AT, KNEE_SIDE[1]
                if cushion_mm is not None and mount.height_mm is not None:
                    up = _within(THIGH_UNDER_Y - (mount.height_mm - cushion_mm), _KNEE_HIGH_MM, up)
        yield Drawn(number, mount, side, along, across, up, first, second, wide, is_round, stands)


def _within(value: float, most: float, otherwise: float | None = None) -> float:
    """The value; what is further than `most` is not drawn there, but at the other place, or at the edge."""
    if abs(value) <= most:
        return value
    return otherwise if otherwise is not None else most if value > 0 else -most


def _back_of_head(mounts: Sequence[Mount], head_long_mm: float) -> float | None:
    """The depth of the back of the skull, from a part behind it or one before the lips; None where none tells it."""
    for mount in mounts:
        if mount.depth_mm is None or mount.gap_mm is None:
            continue
        if mount.site == "head_back":
            return mount.depth_mm + mount.gap_mm
        if mount.site == "mouth":
            return mount.depth_mm - mount.gap_mm - head_long_mm * (1 + LIPS_AHEAD) / 2
    return None


class _Heel(Struct, frozen=True):
    """The heel of a foot on its plate: its depth and its side in mm, and the tilt of the plate in radians."""

    depth: float
    midline: float
    tilt: float


def _heel(mounts: Sequence[Mount]) -> _Heel | None:
    """Where the heel is, from a part behind it; None where none tells it."""
    for mount in mounts:
        known = mount.depth_mm is not None and mount.midline_mm is not None and mount.gap_mm is not None
        if mount.site == "foot" and mount.side == "back" and known:
            tilt = math.radians(mount.angle_deg or 0.0) if mount.held_by == "footplate" else 0.0
            return _Heel((mount.depth_mm or 0) + (mount.gap_mm or 0) * math.cos(tilt), mount.midline_mm or 0, tilt)
    return None


def _from_heel(mount: Mount, heel: _Heel, side: str, along: float, across: float) -> tuple[float, float]:
    """How far back and how far to the right of the middle of the foot, as far from the heel as recorded: of a part at
    the side the first, of one before or behind the second."""
    if side in ("left", "right") and mount.depth_mm is not None:
        ahead = (mount.depth_mm - heel.depth) / math.cos(heel.tilt)
        along = _within(FOOT_LONG_MM / 2 - ahead, FOOT_LONG_MM / 2)
    if side in ("front", "back") and mount.midline_mm is not None:
        across = _within(mount.midline_mm - heel.midline, _FOOT_WIDE_MM, across)
    return along, across


def _at_head(mount: Mount, length: float, high: float, level: float | None) -> tuple[float, float]:
    """How far back and how far down from the middle of the head, in mm.

    level  height of that middle above the seat; None when no part tells it
    """
    along, up = 0.0, _HEIGHTS.get(mount.site, EAR_Y)
    if mount.site == "cheek":
        along = -CHEEK_FORWARD
    elif mount.near == "behind_ear":
        along = EAR[1] + _CLEAR_MM + length / 2
    elif mount.near == "before_ear":
        along = EAR[0] - _CLEAR_MM - length / 2
    elif mount.near == "below_ear":
        along, up = sum(EAR) / 2, EAR_Y + EAR_HIGH + _CLEAR_MM + high / 2
    if level is not None and mount.height_mm is not None and abs(level - mount.height_mm) <= HEAD_HIGH_MM / 2:
        up = level - mount.height_mm
    return along, up


def _at_foot(mount: Mount, outer: int, high: float, stands: bool) -> tuple[float, float, float]:
    """How far back, how far to the right and how far down from the middle of the foot, in mm."""
    along = {"big_toe": -105.0, "toes": -105.0, "middle_of_foot": 0.0, "heel": 100.0}.get(mount.near or "", 0.0)
    across = -outer * TOE_X if mount.near == "big_toe" else 0.0
    return along, across, SOLE_Y - high / 2 if stands or mount.held_by == "footplate" else 20.0


def _at_hand(mount: Mount, outer: int, length: float) -> tuple[float, float]:
    """How far to the right and how far back from the middle of the hand, in mm: at the fingers it is for, the thumb or
    the palm."""
    tips = [FINGERS[finger] for finger in fingers_of(mount)]
    if tips:
        return -outer * sum(x for x, _ in tips) / len(tips), sum(tip for _, tip in tips) / len(tips) + length / 2
    return (-outer * 62.0, 12.0) if mount.near == "thumb" else (0.0, 50.0)


def _level(mounts: Sequence[Mount]) -> float | None:
    """The height above the seat of the middle of the drawn head, from the first part whose level its place gives."""
    for site, y in (
        ("mouth", MOUTH_Y),
        ("head_left", EAR_Y),
        ("head_right", EAR_Y),
        ("chin", CHIN_Y),
        ("cheek", CHEEK_Y),
        ("head_back", EAR_Y),
    ):
        for mount in mounts:
            if mount.site == site and mount.height_mm is not None and mount.near != "below_ear":
                return mount.height_mm + y
    return None


def fingers_of(mount: Mount) -> tuple[str, ...]:
    return {"index_finger": ("index",), "index_and_middle_fingers": ("index", "middle"), "fingers": tuple(FINGERS)}.get(
        mount.near or "", ()
    )
