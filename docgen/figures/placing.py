"""Where each part of a control stands at the part of the body it is for, in mm, as far as the mounting record tells.

`PLACES` names, for each site, what the record must hold before a part is drawn there.
"""

from __future__ import annotations

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
    HEAD_HIGH_MM,
    KNEE_AT,
    KNEE_SIDE,
    MOUTH_Y,
    SOLE_Y,
    TOE_X,
)

_SIZE_MM = 40.0  # of a part whose size is not recorded
_MOST_MM, _MOST_STICK_MM = 160.0, 60.0  # the largest drawn of a pad and of what stands up
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
        return "no_gap"
    return "no_room" if mount.gap_mm > place.most_gap_mm else None


def _sizes(mount: Mount) -> tuple[float, float, bool, bool]:
    """Both sizes of a part in mm, whether it is round, and whether it stands up."""
    first = mount.wide_mm or _SIZE_MM
    second = mount.tall_mm or first
    is_round = mount.shape != "flat"
    stands = is_round and mount.tall_mm is not None
    most = _MOST_STICK_MM if stands else _MOST_MM
    return min(first, most), min(second, most), is_round, stands


def placed(name: str, limb: str | None, mounts: Sequence[tuple[int, Mount]]) -> Iterator[Drawn]:
    """Each part at the place that its site and landmark stand for; heights of parts of a head keep their recorded
    differences."""
    level = _level([mount for _, mount in mounts]) if name == "head" else None
    outer = -1 if limb == "left" else 1
    for number, mount in mounts:
        side = mount.side or PLACES[mount.site].side or ""
        first, second, is_round, stands = _sizes(mount)
        wide, across = first, 0.0
        match name:
            case "head":
                along, up = _at_head(mount, first, second, level)
            case "foot":
                along, across, up = _at_foot(mount, outer, second, stands)
            case "hand":
                (across, along), up, wide = _at_hand(mount, outer, first), 0.0, second
            case _:
                along, up = KNEE_AT, KNEE_SIDE[1]
        yield Drawn(number, mount, side, along, across, up, first, second, wide, is_round, stands)


def _at_head(mount: Mount, length: float, high: float, level: float | None) -> tuple[float, float]:
    """How far back and how far down from the middle of the head, in mm.

    level  height of that middle above the seat; None when no part tells it
    """
    along, up = 0.0, {"mouth": MOUTH_Y, "chin": CHIN_Y, "cheek": CHEEK_Y}.get(mount.site, EAR_Y)
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
