"""The mounting record as the order tells it: what was measured of each part, and what a part at the head is nothing
without."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Literal, TypedDict

from docgen.case.asked import Mount
from docgen.case.model import Case
from docgen.documents.made_from import made_from

MADE_FROM = {
    "mounting": made_from("configuration.mounting"),
    "heights": made_from("configuration.mounting"),
}

_AT_HEAD = frozenset({"head_back", "head_left", "head_right"})  # sites whose parts are set by height, angle and size
_LABELS = {name: field.description or name for name, field in Mount.model_fields.items()}


class MountRow(TypedDict):
    """One part. Lengths in mm, the angle in degrees.

    tells_height, tells_angle, tells_size   it was measured, or a part at this site is nothing without it
    """

    part: str
    at: str | None
    gap_mm: float | None
    mark: str | None
    height_mm: float | None
    tells_height: bool
    angle_deg: float | None
    tells_angle: bool
    size_mm: str | None
    tells_size: bool
    tool: str | None
    on: date | None
    _labels: dict[str, str]


class Heights(TypedDict):
    """What the heights of the parts are measured from: the seat, the foot plate, or each for some of them."""

    above: Literal["seat", "plate", "both"]


def mounting(case: Case) -> Iterator[MountRow]:
    """Each part of the mounting record, in its order."""
    for mount in case.configuration.mounting:
        at_head = mount.site in _AT_HEAD
        yield {
            "part": mount.part,
            "at": mount.at,
            "gap_mm": mount.gap_mm,
            "mark": mount.mark,
            "height_mm": mount.height_mm,
            "tells_height": bool(mount.height_mm) or at_head,
            "angle_deg": mount.angle_deg,
            "tells_angle": mount.angle_deg is not None or at_head,
            "size_mm": mount.size_mm,
            "tells_size": mount.size_mm is not None or at_head,
            "tool": mount.tool,
            "on": mount.on,
            "_labels": _LABELS,
        }


def heights(case: Case) -> Heights:
    """What the heights are measured from: at the foot above its plate, elsewhere above the seat."""
    at_foot = [mount.site == "foot" for mount in case.configuration.mounting]
    return {"above": "seat" if not any(at_foot) else "plate" if all(at_foot) else "both"}
