"""The mounting record as a technician builds it and puts it back: of each part every measure, or why it has none."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.case.mount import MeasuredFrom, Mount
from docgen.documents.lines import line_numbers
from docgen.documents.made_from import made_from
from docgen.documents.measures import numbers_in
from docgen.figures.placing import PLACES

MADE_FROM = {
    "mounting": made_from(
        "configuration.mounting",
        line="configuration.mounting.item",
        arm_line=("configuration.mounting.item", "configuration.items.features"),
    ),
    "heights": made_from("configuration.mounting"),
    "zero": made_from("configuration.measured_from", ends_below=("configuration.mounting", "configuration.chair")),
}

_LABELS = {name: field.description or name for name, field in Mount.model_fields.items()} | {
    "gap_mm": "gap at rest",
    "gap_from_mm": "smallest gap that works",
    "gap_to_mm": "largest gap that works",
    "angle_from_deg": "smallest angle that works",
    "angle_to_deg": "largest angle that works",
    "height_mm": "height",
    "depth_mm": "depth",
    "midline_mm": "side",
    "angle_deg": "angle",
    "angle_axis": "axis of the angle",
    "bracket": "bracket and rail",
    "size_mm": "size",
    "tool": "tool",
    "wired_to": "where its cable goes",
    "swing": "how far it swings",
    "line": "line that brings it",
    "arm_line": "line that brings its arm",
    "gives_way": "whether it gives way when pushed forward",
    "gap_moved": "gap at full tilt and recline",
    "route": "length, route and slack",
}
_FACE = ("mouth", "chin")
_SWINGS = "swing_away_mount"
_PLACED = ("height_mm", "depth_mm", "midline_mm", "angle_deg")  # without one of these a part is not measured


class MountRow(TypedDict):
    """One part. Lengths in mm, the angle in degrees about its axis.

    depth_mm, midline_mm   without their signs: the ways say which way, empty where the length is 0 or lacking
    line                   number of the line of the order that brings it
    arm_line               that of the line that brings the arm on which it swings, or its own where it does not swing
    measured               height, depth, side and angle are all recorded or do not apply
    worked                 a force or a travel at which it worked in the trial is recorded
    holds_head             it holds up the head at the base of the skull
    faces                  it stands in front of the mouth or the chin, where a driver who is thrown forward meets it
    runs                   which way the two sizes of a flat pad run, as the drawing has them; empty where not known
    not_<measure>          why a measure does not apply; empty where it does
    """

    part: str
    at: str | None
    gap_mm: float | None
    gap_from_mm: float | None
    gap_to_mm: float | None
    worked: bool
    force_g: float | None
    travel_mm: float | None
    mark: str | None
    height_mm: float | None
    depth_mm: float | None
    depth_way: Literal["front", "behind", ""]
    midline_mm: float | None
    midline_way: Literal["left", "right", ""]
    angle_deg: float | None
    angle_from_deg: float | None
    angle_to_deg: float | None
    angle_axis: str | None
    size_mm: str | None
    runs: Literal["along", "across", "level", ""]
    thick_mm: float | None
    swings: Literal["left", "right", ""]
    swing: str | None
    wired_to: str | None
    line: int | None
    arm_line: int | None
    faces: bool
    holds_head: bool
    gives_way: str | None
    gap_moved: str | None
    route: str | None
    bracket: str | None
    tool: str | None
    on: date | None
    measured: bool
    not_height_mm: str
    not_depth_mm: str
    not_midline_mm: str
    not_angle_deg: str
    not_gap_mm: str
    not_allowed: str
    not_allowed_angle: str
    not_size_mm: str
    not_bracket: str
    not_tool: str
    not_mark: str
    not_wired_to: str
    _labels: dict[str, str]


class Heights(TypedDict):
    """What the heights of the parts are measured from: the seat, the footplate, or each for some of them."""

    above: Literal["seat", "plate", "both"]


def mounting(case: Case) -> Iterator[MountRow]:
    """Each part of the mounting record, in its order."""
    numbers = line_numbers(case)
    arm = next((numbers[item.id] for item in case.configuration.items if _SWINGS in item.features), None)
    for mount in case.configuration.mounting:
        without = {lacks.of: lacks.because for lacks in mount.not_applicable}
        depth, midline = mount.depth_mm, mount.midline_mm
        yield {
            "part": mount.part,
            "at": mount.at,
            "gap_mm": mount.gap_mm,
            "gap_from_mm": mount.gap_from_mm,
            "gap_to_mm": mount.gap_to_mm,
            "worked": (mount.force_g, mount.travel_mm) != (None, None),
            "force_g": mount.force_g,
            "travel_mm": mount.travel_mm,
            "mark": f"{mount.mark}; {mount.body_mark}" if mount.mark and mount.body_mark else mount.mark,
            "height_mm": mount.height_mm,
            "depth_mm": None if depth is None else abs(depth),
            "depth_way": "" if not depth else "front" if depth > 0 else "behind",
            "midline_mm": None if midline is None else abs(midline),
            "midline_way": "" if not midline else "right" if midline > 0 else "left",
            "angle_deg": mount.angle_deg,
            "angle_from_deg": mount.angle_from_deg,
            "angle_to_deg": mount.angle_to_deg,
            "angle_axis": mount.angle_axis,
            "size_mm": mount.size_mm,
            "runs": _runs(mount),
            "thick_mm": mount.thick_mm,
            "swings": mount.swings or "",
            "swing": mount.swing,
            "wired_to": mount.wired_to,
            "line": numbers.get(mount.item or ""),
            "arm_line": arm if mount.swings and arm else numbers.get(mount.item or ""),
            "faces": mount.site in _FACE,
            "holds_head": mount.site == "skull_base",
            "gives_way": mount.gives_way,
            "gap_moved": mount.gap_moved,
            "route": mount.route,
            "bracket": mount.bracket,
            "tool": mount.tool,
            "on": mount.on,
            "measured": all(getattr(mount, name) is not None or name in without for name in _PLACED),
            "not_height_mm": without.get("height_mm", ""),
            "not_depth_mm": without.get("depth_mm", ""),
            "not_midline_mm": without.get("midline_mm", ""),
            "not_angle_deg": without.get("angle_deg", ""),
            "not_gap_mm": without.get("gap_mm", ""),
            "not_allowed": without.get("allowed", without.get("gap_mm", "")),
            "not_allowed_angle": without.get("allowed_angle", without.get("angle_deg", "")),
            "not_size_mm": without.get("size_mm", ""),
            "not_bracket": without.get("bracket", ""),
            "not_tool": without.get("tool", ""),
            "not_mark": without.get("mark", ""),
            "not_wired_to": without.get("wired_to", ""),
            "_labels": _LABELS,
        }


def _runs(mount: Mount) -> Literal["along", "across", "level", ""]:
    """along: front to back, then up; across: left to right, then up; level: front to back, then left to right."""
    sizes = numbers_in(mount.size_mm or "")
    place = PLACES.get(mount.site)
    side = mount.side or (place.side if place else None)
    if mount.shape != "flat" or sizes[:2] != [mount.wide_mm, mount.tall_mm] or side is None:
        return ""
    if side in ("above", "below"):
        return "level" if mount.site == "hand" else ""
    return "along" if side in ("left", "right") else "across"


def heights(case: Case) -> Heights:
    """What the heights are measured from: at the foot above its plate, elsewhere above the seat."""
    at_foot = [mount.site == "foot" for mount in case.configuration.mounting]
    return {"above": "seat" if not any(at_foot) else "plate" if all(at_foot) else "both"}


class Zero(TypedDict):
    """Zero points of the mounting record; None where nobody has said what was measured from.

    ends_below  the back posts end below a part that counts its depth from them, so that beyond_posts has to be told
    """

    height: str | None
    depth: str | None
    point: str | None
    cushion_mm: float | None
    depth_along: str | None
    depth_above: str | None
    back_deg: float | None
    back_mm: float | None
    beyond_posts: str | None
    ends_below: bool
    seated: str | None
    _labels: dict[str, str]


def zero(case: Case) -> Zero:
    """What heights and depths are measured from, and how the driver sat."""
    measured_from = case.configuration.measured_from
    return {
        "height": measured_from.height,
        "depth": measured_from.depth,
        "point": measured_from.point,
        "cushion_mm": measured_from.cushion_mm,
        "depth_along": measured_from.depth_along,
        "depth_above": measured_from.depth_above,
        "back_deg": measured_from.back_deg,
        "back_mm": measured_from.back_mm,
        "beyond_posts": measured_from.beyond_posts,
        "ends_below": _ends_below(case),
        "seated": measured_from.seated,
        "_labels": {name: entry.description or name for name, entry in MeasuredFrom.model_fields.items()},
    }


def _ends_below(case: Case) -> bool:
    """Whether a part above the seat stands higher than the back is high: posts end no lower than their back. Where
    all parts are at a foot, the place of a headrest counts, which is told in words."""
    back_mm = case.configuration.chair.back_height_mm
    above = [mount.height_mm for mount in case.configuration.mounting if mount.site != "foot" and mount.height_mm]
    in_words = [part.set_at or part.mounted for part in case.configuration.standard_parts if part.part == "headrest"]
    if heights(case)["above"] == "plate":
        return any(in_words)
    return back_mm is not None and any(height_mm > back_mm for height_mm in above)
