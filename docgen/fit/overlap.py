"""Parts behind the head or the skull that the record puts into one place."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.mount import Mount

BEHIND = ("head_back", "skull_base")
_TOUCH_MM = 1.0  # parts that touch: sizes and places are read to the millimetre


class Box(Struct, frozen=True):
    """A part as a box square to the seat, each side as its ends in mm: left to right, behind to front, up."""

    across: tuple[float, float]
    along: tuple[float, float]
    up: tuple[float, float]


def overlaps(case: Case) -> Iterator[tuple[int, int, float]]:
    """Pairs of parts behind the head that stand in one place, by their numbers in the mounting record, with the least
    of their overlaps in mm.

    A part is taken as square to the seat, which a few degrees change by less than its thickness.
    """
    boxes = [(at, box) for at, mount in enumerate(case.configuration.mounting) if (box := _box(mount)) is not None]
    for (i, first), (j, other) in combinations(boxes, 2):
        common = min(
            min(first_side[1], other_side[1]) - max(first_side[0], other_side[0])
            for first_side, other_side in zip(_sides(first), _sides(other), strict=True)
        )
        if common > _TOUCH_MM:
            yield i, j, common


def _sides(box: Box) -> tuple[tuple[float, float], ...]:
    return box.across, box.along, box.up


def _box(mount: Mount) -> Box | None:
    """Where a part stands; None where a measure of that is not recorded, or it is not behind the head."""
    wide, tall, thick = mount.wide_mm, mount.tall_mm, mount.thick_mm
    height, depth, side = mount.height_mm, mount.depth_mm, mount.midline_mm
    if wide is None or tall is None or thick is None or height is None or depth is None or side is None:
        return None
    if mount.site not in BEHIND:
        return None
    # its place is the center of its face, on the side of the driver; the rest is behind that
    return Box((side - wide / 2, side + wide / 2), (depth - thick, depth), (height - tall / 2, height + tall / 2))
