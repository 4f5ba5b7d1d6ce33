"""Parts behind the head or the skull that the record puts into one place."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from docgen.case.model import Case
from docgen.case.mount import Mount

BEHIND = ("head_back", "skull_base")
_TOUCH_MM = 1.0  # parts that touch: sizes and places are read to the millimetre
Box = tuple[tuple[float, float], ...]  # square to the seat, the ends of each side in mm: left to right, to front, up


def overlaps(case: Case) -> Iterator[tuple[int, int, float]]:
    """Pairs of parts behind the head that stand in one place, by their numbers in the mounting record, with the least
    of their overlaps in mm.

    A part is taken as square to the seat, which a few degrees change by less than its thickness.
    """
    boxes = [(at, box) for at, mount in enumerate(case.configuration.mounting) if (box := _box(mount)) is not None]
    for (i, first), (j, other) in combinations(boxes, 2):
        common = min(
            min(first_side[1], other_side[1]) - max(first_side[0], other_side[0])
            for first_side, other_side in zip(first, other, strict=True)
        )
        if common > _TOUCH_MM:
            yield i, j, common


def _box(mount: Mount) -> Box | None:
    """Where a part stands; None where a measure of that is not recorded, or it is not behind the head."""
    wide, tall, thick = mount.wide_mm, mount.tall_mm, mount.thick_mm
    height, depth, side = mount.height_mm, mount.depth_mm, mount.midline_mm
    if wide is None or tall is None or thick is None or height is None or depth is None or side is None:
        return None
    if mount.site not in BEHIND:
        return None
    # its place is the center of its face, on the side of the driver; the rest is behind that
    return (side - wide / 2, side + wide / 2), (depth - thick, depth), (height - tall / 2, height + tall / 2)
