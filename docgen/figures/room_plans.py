"""Each place that was measured, from above and to one scale: the chair, what is free ahead of it, beside it and to turn
on, and what a stop and a turn need."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from msgspec import Struct

from docgen.case.chair import Chair
from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.evidence.spaces import corner_width_mm, most_slant_deg
from docgen.evidence.stopping_rule import Release, StopThere, late_on_slope_m
from docgen.figures.lettering import wrapped
from docgen.figures.strokes import span
from docgen.scene import Circle, Line, Poly, Rect, Scene, Shape, Text
from docgen.units import Side, inches, rounded

SHOWN_IN = "programming: Places"
_BRACKETED = re.compile(r" \([^)]*\)")  # the same size in the other unit, which a listener need not hear
CAPTION = "Each place from above, to one scale. Gray: what a stop needs, to be measured on the chair as fitted"
MADE_FROM = (
    "spaces.clear_width_mm",
    "configuration.chair.length_mm",
    "configuration.chair.width_mm",
    "configuration.chair.turning_mm",
    "configuration.profiles.speed_m_s",
    "trial.methods",
)
WORDS = {
    "plans_title": "Places from above, drawn to one scale, with a bar of 1 m (39 3/8 in).",
    "plans_ahead": "free ahead: {size}",
    "plans_stop": "a stop needs: {size}",
    "plans_measured": "longest stop measured: {size}",
    "plans_late": "released late: {size}",
    "plans_untried": "counts once each switch is tried",
    "plans_no_ahead": "ahead: the supplier measures it",
    "plans_short": "TOO SHORT TO STOP",
    "plans_no_stop": "what a stop needs: not known",
    "plans_width": "clear width: {size}",
    "plans_beside": "width to spare: {size}",
    "plans_slant": "askew at most: {deg} degrees",
    "plans_corner": "a corner needs: {size}",
    "plans_circle": "free to turn: {size}",
    "plans_turn": "a turn needs: {size}",
    "plans_diagonal": "its diagonal: {size}",
    "plans_tight": "TOO TIGHT TO TURN",
    "plans_scale": "1 m (39 3/8 in)",
    "plans_chair": "The chair, black: {length} long, {width} wide.",
}

_WIDTH, _GUTTER, _ABREAST = 486.0, 12.0, 3
_CELL = (_WIDTH - _GUTTER * (_ABREAST - 1)) / _ABREAST
_MOST_HIGH, _MOST_PER_M = 132.0, 44.0  # of one plan in points; points for a metre, where the places are small
_LETTERS, _LEAD, _SIZE = 34, 11.0, 8.6
_MARGIN_MM = 150.0  # drawn beyond what was measured


class PlacePlan(Struct, frozen=True):
    """What is drawn of one place, in mm; None where it was not measured or cannot be told.

    ahead_mm     free ahead of the front of the chair, once it is in
    stop_mm      what a stop needs there, at the speed of the profile used; `measured` where it was, on a slope
    late_mm      of one that was measured: the same with the whole release that distances are worked out with
    no_ahead     a profile is used on that level place, and the room ahead was not measured
    width_mm     clear width between walls or jambs
    beside_mm    what the chair leaves of that, on both sides together: room for whoever walks beside it
    slant_deg    how far askew the chair still fits between the walls of a doorway; doorways alone
    corner_mm    width that a square corner between two such corridors needs in one sweep; corridors alone
    circle_mm    free floor to turn on
    turn_mm      turning circle of the chair; its diagonal where that is larger, for no turn on the spot needs less
    diagonal_mm  the chair from corner to corner
    """

    name: str
    kind: str
    enters: bool
    ahead_mm: float | None = None
    stop_mm: float | None = None
    measured: bool = False
    late_mm: float | None = None
    no_ahead: bool = False
    width_mm: float | None = None
    beside_mm: float | None = None
    slant_deg: float | None = None
    corner_mm: float | None = None
    circle_mm: float | None = None
    turn_mm: float | None = None
    diagonal_mm: float = 0.0


def place_plan(there: StopThere, chair: Chair, release: Release | None = None) -> PlacePlan | None:
    """The plan of one place; None where chair or place were not measured.

    release  the release that distances are worked out with
    """
    space, width_mm, length_mm = there.space, chair.width_mm, chair.length_mm
    if width_mm is None or length_mm is None:
        return None
    clear_mm = space.inside_width_mm or space.clear_width_mm
    if clear_mm is None and space.turning_mm is None and there.room_m is None:
        return None
    diagonal_mm = math.hypot(width_mm, length_mm)
    late_m = late_on_slope_m(space, there.speed_m_s, release) if release and there.measured else None
    return PlacePlan(
        name=space.name,
        kind=space.kind,
        enters=space.ahead_from == "way_in",
        ahead_mm=None if there.room_m is None else there.room_m * 1000,
        stop_mm=None if there.distance_m is None else there.distance_m * 1000,
        measured=there.measured,
        late_mm=None if late_m is None else late_m * 1000,
        no_ahead=there.room_m is None and there.profile is not None and not space.is_sloping,
        width_mm=clear_mm,
        beside_mm=None if clear_mm is None else max(0.0, clear_mm - width_mm),
        slant_deg=most_slant_deg(width_mm, length_mm, clear_mm) if clear_mm and space.kind == "doorway" else None,
        corner_mm=corner_width_mm(width_mm, length_mm) if space.kind == "corridor" else None,
        circle_mm=space.turning_mm,
        turn_mm=max(chair.turning_mm or 0.0, diagonal_mm) if space.turning_mm else None,
        diagonal_mm=diagonal_mm,
    )


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The plans, three abreast; None when the chair or every place lacks its measures."""
    chair = case.configuration.chair
    rule = evidence.stopping
    plans = [plan for there in rule.places if (plan := place_plan(there, chair, rule.release)) is not None]
    if not plans or chair.width_mm is None or chair.length_mm is None:
        return None
    per_mm = points_per_mm(plans, chair.width_mm, chair.length_mm)
    chair_size = words["plans_chair"].format(
        length=_size(chair.length_mm, "up", words), width=_size(chair.width_mm, "up", words)
    )
    shapes: list[Shape] = [Text(0, 10, chair_size, 9.5, True), *_scale_bar(per_mm, words)]
    alt, top = [words["plans_title"], chair_size], 26.0
    for first in range(0, len(plans), _ABREAST):
        row = plans[first : first + _ABREAST]
        measures = [_measures(plan, words) for plan in row]
        high = max(_extent_mm(plan, chair.length_mm)[1] for plan in row) * per_mm
        for at, (plan, lines) in enumerate(zip(row, measures, strict=True)):
            left = at * (_CELL + _GUTTER)
            shapes += _drawn(plan, chair.width_mm, chair.length_mm, left + _CELL / 2, top + high, per_mm)
            shapes += _lettered(plan.name, lines, left, top + high + 14)
            alt.append(f"{plan.name}: {_BRACKETED.sub('', '; '.join(lines))}.")
        n_lines = max(len(_broken(plan.name, lines)) for plan, lines in zip(row, measures, strict=True))
        top += high + 24 + _LEAD * n_lines
    return Scene(_WIDTH, top, " ".join(alt), tuple(shapes))


def points_per_mm(plans: list[PlacePlan], width_mm: float, length_mm: float) -> float:
    """The one scale of all plans: the largest of them still fits its place."""
    across = max(max(_extent_mm(plan, length_mm)[0], width_mm) for plan in plans)
    along = max(_extent_mm(plan, length_mm)[1] for plan in plans)
    return min(_CELL / across, _MOST_HIGH / along, _MOST_PER_M / 1000)


def _extent_mm(plan: PlacePlan, length_mm: float) -> tuple[float, float]:
    """How far a plan goes across and along, in mm."""
    across = max(plan.width_mm or 0.0, plan.circle_mm or 0.0, plan.turn_mm or 0.0) + 2 * _MARGIN_MM
    ahead = max(plan.ahead_mm or 0.0, _needs_mm(plan) or 0.0)
    half_circle = max(plan.circle_mm or 0.0, plan.turn_mm or 0.0) / 2
    behind = max(0.0, half_circle - length_mm / 2)
    return across, max(length_mm + ahead, length_mm / 2 + half_circle) + behind + 2 * _MARGIN_MM


def _needs_mm(plan: PlacePlan) -> float | None:
    """The longest that a stop there may be, as far as it is known."""
    return plan.stop_mm if plan.late_mm is None else plan.late_mm


def _drawn(
    plan: PlacePlan, width_mm: float, length_mm: float, middle: float, bottom: float, per_mm: float
) -> list[Shape]:
    """The plan with the chair driving up the page; `bottom` is the lowest point of its place."""
    half_circle = max(plan.circle_mm or 0.0, plan.turn_mm or 0.0) / 2
    rear = bottom - (_MARGIN_MM + max(0.0, half_circle - length_mm / 2)) * per_mm
    front, half = rear - length_mm * per_mm, width_mm / 2 * per_mm
    shapes: list[Shape] = []
    if plan.circle_mm and plan.turn_mm:
        center = (rear + front) / 2
        shapes += [
            Circle(middle, center, plan.circle_mm / 2 * per_mm, fill=0.97, stroke=0.0, width=1.6),
            Circle(middle, center, plan.turn_mm / 2 * per_mm, fill=None, stroke=0.35, width=0.8),
        ]
    if (needs_mm := _needs_mm(plan)) is not None:
        shapes.append(Rect(middle - half, front - needs_mm * per_mm, 2 * half, needs_mm * per_mm, 0.75, None))
    shapes += _walls(plan, middle, rear, bottom, front, per_mm)
    if plan.ahead_mm is not None:
        end = front - plan.ahead_mm * per_mm
        shapes.append(Line(middle - half - 8, end, middle + half + 8, end, 2.4))
        shapes += span(middle, front, middle, end) if plan.ahead_mm else []
    body = Rect(middle - half, front, 2 * half, length_mm * per_mm, fill=0.15, radius=2)
    nose = Poly(((middle - 5, front + 10), (middle, front + 3), (middle + 5, front + 10)), fill=1.0, stroke=None)
    return [*shapes, body, nose]


def _walls(plan: PlacePlan, middle: float, rear: float, bottom: float, front: float, per_mm: float) -> list[Shape]:
    """Two walls along the way, or at a doorway the jambs: at the rear of a chair that is in, else at its middle."""
    if plan.width_mm is None:
        return []
    half = plan.width_mm / 2 * per_mm
    if plan.kind == "doorway":
        at = rear if plan.enters else (rear + front) / 2
        return [Line(middle + sign * half, at, middle + sign * (half + 14), at, 3.2) for sign in (-1, 1)]
    top = front - (plan.ahead_mm or 0.0) * per_mm
    return [Line(middle + sign * half, bottom, middle + sign * half, top, 2.4) for sign in (-1, 1)]


def _measures(plan: PlacePlan, words: Mapping[str, str]) -> list[str]:
    """The measures of a plan in words, one a line: what there is rounded down, what is needed up."""
    lines: list[str] = []
    if plan.ahead_mm is not None:
        lines.append(words["plans_ahead"].format(size=_size(plan.ahead_mm, "down", words)))
        if plan.stop_mm is None:
            lines.append(words["plans_no_stop"])
        else:
            lines += _stop_told(plan, plan.stop_mm, plan.ahead_mm, words)
    if plan.no_ahead:
        lines.append(words["plans_no_ahead"])
    if plan.width_mm is not None and plan.beside_mm is not None:
        lines.append(words["plans_width"].format(size=_size(plan.width_mm, "down", words)))
        lines.append(words["plans_beside"].format(size=_size(plan.beside_mm, "down", words)))
    if plan.slant_deg is not None:
        lines.append(words["plans_slant"].format(deg=rounded(plan.slant_deg, "down")))
    if plan.corner_mm is not None:
        lines.append(words["plans_corner"].format(size=_size(plan.corner_mm, "up", words)))
    if plan.circle_mm is not None and plan.turn_mm is not None:
        lines.append(words["plans_circle"].format(size=_size(plan.circle_mm, "down", words)))
        lines.append(words["plans_turn"].format(size=_size(plan.turn_mm, "up", words)))
        lines.append(words["plans_diagonal"].format(size=_size(plan.diagonal_mm, "up", words)))
        lines += [words["plans_tight"]] if plan.turn_mm > plan.circle_mm else []
    return lines


def _stop_told(plan: PlacePlan, stop_mm: float, ahead_mm: float, words: Mapping[str, str]) -> list[str]:
    """What a stop needs; of one that was measured on a slope too, what it could be and what it waits for."""
    size = _size(_up_mm(stop_mm), "up", words)
    lines = [words["plans_measured" if plan.measured else "plans_stop"].format(size=size)]
    if plan.late_mm is not None:
        lines.append(words["plans_late"].format(size=_size(_up_mm(plan.late_mm), "up", words)))
    lines += [words["plans_short"]] if (_needs_mm(plan) or stop_mm) > ahead_mm else []
    return [*lines, words["plans_untried"]] if plan.measured else lines


def _up_mm(mm: float) -> int:
    """Up to the next cm, as criteria and letter tell it."""
    return 10 * rounded(mm / 10, "up")


def _lettered(name: str, lines: list[str], left: float, top: float) -> list[Shape]:
    """Name and measures below a plan."""
    shapes: list[Shape] = []
    for at, line in enumerate(_broken(name, lines)):
        shapes.append(Text(left, top + _LEAD * at, line, _SIZE, at < len(wrapped(name, _LETTERS)) or line.isupper()))
    return shapes


def _broken(name: str, lines: list[str]) -> list[str]:
    return [part for line in (name, *lines) for part in wrapped(line, _LETTERS)]


def _scale_bar(per_mm: float, words: Mapping[str, str]) -> list[Shape]:
    """A metre at the scale of the plans."""
    right = _WIDTH - 84
    return [*span(right - 1000 * per_mm, 7, right, 7), Text(right + 6, 10, words["plans_scale"], 8.6)]


def _size(mm: float, side: Side, words: Mapping[str, str]) -> str:
    return words["gap"].format(mm=rounded(mm, side), inches=inches(mm, side))
