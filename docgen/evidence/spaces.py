"""Space that a chair needs to turn, beside the spaces that public buildings must give."""

from __future__ import annotations

import math
from dataclasses import dataclass

from docgen.evidence.checked import number

MM_PER_INCH = 25.4


@dataclass(frozen=True, slots=True)
class SweptPath:
    """Circles, about the centre of the turn, that the chair stays between, in mm; width is their distance."""

    outer_radius_mm: float
    inner_radius_mm: float
    width_mm: float


@dataclass(frozen=True, slots=True)
class PublicSpace:
    """One length of the law: its own inches, its printed mm (to the nearest 5), its section."""

    id: str
    says: str
    inches: float
    printed_mm: int
    section: str
    source: str = "2010 ADA Standards for Accessible Design"


PUBLIC_SPACES: tuple[PublicSpace, ...] = (
    PublicSpace("turning_circle", "diameter of a circular turning space", 60, 1525, "304.3.1"),
    PublicSpace("t_turn_square", "side of the square round a T-shaped turning space", 60, 1525, "304.3.2"),
    PublicSpace("t_turn_arm", "width of the arms and base of the T", 36, 915, "304.3.2"),
    PublicSpace("t_turn_arm_clear", "clear length of each arm of the T", 12, 305, "304.3.2"),
    PublicSpace("t_turn_base_clear", "clear length of the base of the T", 24, 610, "304.3.2"),
    PublicSpace("floor_width", "width of the clear floor space for one chair", 30, 760, "305.3"),
    PublicSpace("floor_length", "length of the clear floor space for one chair", 48, 1220, "305.3"),
    PublicSpace("route_width", "clear width of a route", 36, 915, "403.5.1"),
    PublicSpace("route_narrow_width", "clear width of a route over a short length", 32, 815, "403.5.1"),
    PublicSpace("route_narrow_length", "longest such length", 24, 610, "403.5.1"),
    PublicSpace("u_turn_approach", "clear width before and after a turn of 180 degrees", 42, 1065, "403.5.2"),
    PublicSpace("u_turn_width", "clear width at that turn", 48, 1220, "403.5.2"),
    PublicSpace("passing_square", "side of a passing space", 60, 1525, "403.5.3"),
    PublicSpace("door_width", "clear width of a doorway", 32, 815, "404.2.3"),
    PublicSpace("deep_door_width", "clear width of a doorway deeper than 24 in", 36, 915, "404.2.3"),
    PublicSpace("ramp_width", "clear width of a ramp", 36, 915, "405.5"),
)


def public_space(space_id: str) -> PublicSpace:
    """The length of the law with this id.

    space_id  id of one of PUBLIC_SPACES

    Raises ValueError naming the argument and its value.

    Source: 2010 ADA Standards for Accessible Design, sections as listed; lengths of 304, 305, 403, 404 and
            405 read in reprints of the text.
    Check:  turning_circle 60 in (1525 mm), 304.3.1; door_width 32 in (815 mm), 404.2.3.
    """
    for space in PUBLIC_SPACES:
        if space.id == space_id:
            return space
    known = ", ".join(space.id for space in PUBLIC_SPACES)
    raise ValueError(f"space_id must be one of {known}, not {space_id!r}")


def spare_mm(space_id: str, needed_mm: float) -> float:
    """Millimetres that a space of the law leaves over, less than 0 when it is too small.

    space_id   id of one of PUBLIC_SPACES
    needed_mm  length that the chair needs, at least 0

    Worked from the law's inches: its printed mm are rounded to 5 and can be 2.2 mm too generous.
    Raises ValueError naming the argument and its value.

    Source: public_space.
    Check:  a 30 x 48 in chair turning about its centre needs 56.60 in of the 60 in circle: 86.3 mm over (by
            hand).
    """
    return public_space(space_id).inches * MM_PER_INCH - number("needed_mm", needed_mm, 0)


def pivot_circle_mm(width_mm: float, front_mm: float, rear_mm: float) -> float:
    """Diameter of the circle that a chair sweeps while it turns on the spot.

    width_mm  overall width, more than 0
    front_mm  from the drive axle to the foremost point, at least 0
    rear_mm   from the drive axle to the rearmost point, at least 0

    Takes the chair as a rectangle; rounded corners need less.
    Raises ValueError naming the argument and its value.

    Source: 2 sqrt((width / 2)^2 + max(front, rear)^2).
    Check:  width 630: 535 and 535 need 1241.7; 870 and 200 need 1850.5; 300 and 770 need 1663.9 (by hand).
    """
    half, front, rear = _body(width_mm, front_mm, rear_mm)
    return 2 * math.hypot(half, max(front, rear))


def swept_path_mm(radius_mm: float, width_mm: float, front_mm: float, rear_mm: float = 0.0) -> SweptPath:
    """The band that a chair sweeps in a steady turn.

    radius_mm  radius of the path of the middle of the drive axle, at least 0
    width_mm   overall width, more than 0
    front_mm   from the drive axle to the foremost point, at least 0
    rear_mm    from the drive axle to the rearmost point, at least 0

    In a turn so tight that its centre lies under the chair the inner radius is 0.0.
    Raises ValueError naming the argument and its value.

    Source: outer sqrt((R + width / 2)^2 + max(front, rear)^2), inner R - width / 2.
    Check:  R 1000, width 630, front 600: 1445.4 outside, 685.0 inside, 760.4 wide (by hand).
    """
    half, front, rear = _body(width_mm, front_mm, rear_mm)
    radius = number("radius_mm", radius_mm, 0)
    outer, inner = math.hypot(radius + half, max(front, rear)), max(0.0, radius - half)
    return SweptPath(outer, inner, outer - inner)


def longest_round_corner_mm(width_mm: float, corridor_1_mm: float, corridor_2_mm: float) -> float:
    """Length of the longest rectangle of this width that gets round a right-angled corner of two corridors.

    width_mm       width of the rectangle, at least 0
    corridor_1_mm  width of the one corridor, more than 0
    corridor_2_mm  width of the other, more than 0

    0.0 when it does not fit into one of them. Raises ValueError naming the argument and its value.

    Source: least of (a cos t + b sin t - width) / (sin t cos t) for t between 0 and 90 degrees; for width 0
            the ladder of the calculus books, (a^(2/3) + b^(2/3))^(3/2).
    Check:  a = b = 36 in, width 30 in: 41.82 in; 48 and 36 in, width 30 in: 57.49 in; width 0, a 8, b 27:
            46.872167 (by hand).
    """
    width = number("width_mm", width_mm, 0)
    a, b = number("corridor_1_mm", corridor_1_mm, above=0), number("corridor_2_mm", corridor_2_mm, above=0)
    if width >= min(a, b):
        return 0.0

    def room(t: float) -> float:
        return (a * math.cos(t) + b * math.sin(t) - width) / (math.sin(t) * math.cos(t))

    golden = (math.sqrt(5) - 1) / 2
    low, high = 1e-9, math.pi / 2 - 1e-9
    while high - low > 1e-9:  # room falls, then rises: keep the part that holds its least value
        left, right = high - golden * (high - low), low + golden * (high - low)
        low, high = (low, right) if room(left) < room(right) else (left, high)
    return room((low + high) / 2)


def equal_corridors_mm(width_mm: float, length_mm: float) -> float:
    """Width of two equal corridors whose corner a rectangle just gets round.

    width_mm   width of the rectangle, more than 0
    length_mm  its length, at least its width

    Raises ValueError naming the argument and its value.

    Source: longest_round_corner_mm with both corridors alike, at 45 degrees: (length / 2 + width) / sqrt(2).
    Check:  30 x 48 in: 38.18 in, so two 36 in corridors are not enough (by hand).
    """
    width = number("width_mm", width_mm, above=0)
    return (number("length_mm", length_mm, width) / 2 + width) / math.sqrt(2)


def _body(width_mm: float, front_mm: float, rear_mm: float) -> tuple[float, float, float]:
    half = number("width_mm", width_mm, above=0) / 2
    return half, number("front_mm", front_mm, 0), number("rear_mm", rear_mm, 0)
