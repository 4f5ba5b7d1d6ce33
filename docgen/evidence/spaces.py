"""Space that a chair needs to turn, beside the spaces that public buildings must give."""

from __future__ import annotations

import math

from msgspec import Struct

from docgen.evidence.checked import number


class PublicSpace(Struct, frozen=True):
    """One length of the law: its own inches, its printed mm (to the nearest 5), its section."""

    id: str
    says: str
    inches: float
    printed_mm: int
    section: str
    source: str = "2010 ADA Standards for Accessible Design"


PUBLIC_SPACES: tuple[PublicSpace, ...] = (
    PublicSpace("turning_circle", "diameter of a circular turning space", 60, 1525, "304.3.1"),
    PublicSpace("t_turn_square", "side of the square around a T-shaped turning space", 60, 1525, "304.3.2"),
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


def most_slant_deg(width_mm: float, length_mm: float, clear_mm: float) -> float:
    """Degrees from straight ahead at which a chair still fits between two parallel walls; 0.0 where it fits at none.

    width_mm, length_mm  overall, more than 0
    clear_mm             between the walls, at least 0

    Takes the chair as a rectangle; at a thin door, which it passes corner by corner, more would do.
    Raises ValueError naming the argument and its value.

    Source: width cos a + length sin a is what it takes up at a degrees.
    Check:  660 by 1200 takes 660 at 0, 762 at 5 and 821 at 8 degrees (by hand): 7.7 degrees in 815.
    """
    width, length = number("width_mm", width_mm, above=0), number("length_mm", length_mm, above=0)
    clear, diagonal = number("clear_mm", clear_mm, 0), math.hypot(width, length)
    if clear >= diagonal:
        return 90.0
    return max(0.0, math.degrees(math.asin(clear / diagonal) - math.atan2(width, length)))


def corner_width_mm(width_mm: float, length_mm: float) -> float:
    """Clear width that two corridors of one width need for a chair to round their square corner in one sweep.

    width_mm, length_mm  overall width and length of the chair, more than 0

    Raises ValueError naming the argument and its value.

    Source: (length / 2 + width) / sqrt(2), for a rectangle; a chair that goes to and fro needs less.
    Check:  1414 by 827 needs 1085; 1200 by 660 needs 891 (by hand).
    """
    width, length = number("width_mm", width_mm, above=0), number("length_mm", length_mm, above=0)
    return (length / 2 + width) / math.sqrt(2)


def _body(width_mm: float, front_mm: float, rear_mm: float) -> tuple[float, float, float]:
    half = number("width_mm", width_mm, above=0) / 2
    return half, number("front_mm", front_mm, 0), number("rear_mm", rear_mm, 0)
