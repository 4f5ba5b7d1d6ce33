"""The smallest correction the client can make, against what each doorway forgives; curves and turning space."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.chair import Chair
from docgen.case.model import Case
from docgen.case.record import Row
from docgen.evidence.blocks import by_method, lines, recorded
from docgen.evidence.fact import Fact
from docgen.evidence.median_of import median_of
from docgen.evidence.spaces import pivot_circle_mm, public_space
from docgen.evidence.steering import (
    doorway_heading_error_deg,
    smallest_heading_change_deg,
    turn_rate_for_doorways,
    turn_rate_for_heading_deg_s,
    veer_radius_m,
)
from docgen.units import MM_PER_INCH

ORDER = 62
QUESTION = "Can the client steer through the doors and turn in the rooms on the list?"
_APPROACH_MM = 300.0  # last correction this far before the wall when the case does not say: common practice, no source


def facts(case: Case) -> Iterator[Fact]:
    """hold.<method>, allowed.<door>, turn_rate.<door>, correction.<profile>, veer.<profile>, spare_turning.<space>."""
    touch = None
    for method in case.trial.methods:
        rows = recorded(by_method(case.records).get(method.id, ()), "hold_s")
        if rows:
            fact = _hold(method.id, method.name, rows)
            yield fact
            if method.id == case.configuration.method:
                touch = fact
    yield from _doors(case, touch)
    yield from _profiles(case, touch)
    yield from _turning(case)


def _hold(method: str, name: str, rows: list[Row]) -> Fact:
    return median_of(
        f"hold.{method}",
        "steering",
        f"shortest touch that works, {name}",
        [row.hold_s for row in rows if row.hold_s is not None],
        "median of the shortest touches",
        rows=lines(rows),
        what="touches",
    )


def _reliable_s(touch: Fact | None) -> float | None:
    """The touch to count on: the upper limit of the median of the shortest touches; None with too few touches for
    one."""
    return touch.high if touch is not None else None


def _unknown_of_turns(chair: Chair) -> list[str]:
    """What is not recorded of how a turn ends; without it a turn would come out too small, a turn rate too fast."""
    return [
        words
        for words, value in (
            ("the delay of the electronics", chair.electronics_delay_s),
            ("how fast a turn slows", chair.turn_deceleration_deg_s2),
        )
        if value is None
    ]


def _doors(case: Case, touch: Fact | None) -> Iterator[Fact]:
    chair = case.configuration.chair
    forgiven: dict[str, float] = {}  # name of each door -> heading error it forgives
    for index, space in enumerate(case.spaces):
        if space.kind != "doorway":
            continue
        if space.clear_width_mm is None or chair.width_mm is None or chair.length_mm is None:
            continue
        keys = (f"spaces.{index}.clear_width_mm", "configuration.chair.width_mm", "configuration.chair.length_mm")
        approach = _APPROACH_MM if space.approach_mm is None else space.approach_mm
        allowed = doorway_heading_error_deg(
            space.clear_width_mm,
            space.wall_mm or 0.0,
            chair.width_mm,
            chair.length_mm,
            approach,
            None if chair.axle_to_front_mm is None else min(chair.axle_to_front_mm, chair.length_mm),
        )
        says = [] if space.approach_mm is not None else [f"assumes the last correction {approach:g} mm before the wall"]
        says += [] if space.wall_mm is not None else ["assumes a thin wall"]
        label = f"heading error forgiven, {space.name}"
        if allowed is None:
            yield Fact(
                f"allowed.{space.id}",
                "steering",
                label,
                "degrees",
                None,
                keys=keys,
                note=f"{label}: the chair is wider than the door",
            )
            continue
        yield Fact(
            f"allowed.{space.id}",
            "steering",
            label,
            "degrees",
            allowed,
            1,
            keys=keys,
            note="; ".join(says),
            formula="largest heading error at the last correction with which the chair still passes untouched",
            source="geometry of a straight run through two jambs, derived in docgen.evidence.steering",
        )
        forgiven[space.name] = allowed
        reliable = _reliable_s(touch)
        if reliable and touch is not None:
            delay_s, slowing = chair.electronics_delay_s, chair.turn_deceleration_deg_s2
            if delay_s is None or slowing is None:
                yield Fact(
                    f"turn_rate.{space.id}",
                    "steering",
                    f"fastest turn rate that passes, {space.name}",
                    "turn_rate",
                    None,
                    touch.n,
                    rows=touch.rows,
                    keys=keys,
                    note=" and ".join(_unknown_of_turns(chair)),
                )
                continue
            rate = turn_rate_for_heading_deg_s(allowed, reliable, delay_s, slowing)
            yield Fact(
                f"turn_rate.{space.id}",
                "steering",
                f"fastest turn rate that passes, {space.name}",
                "turn_rate",
                rate,
                touch.n,
                rows=touch.rows,
                keys=keys,
                formula="turn rate at which one shortest touch turns the chair no further than the door forgives",
            )
    yield from _tightest(case, touch, forgiven)


def _tightest(case: Case, touch: Fact | None, forgiven: dict[str, float]) -> Iterator[Fact]:
    """The turn rate that suits every door on the list: the one that forgives least decides."""
    chair, reliable = case.configuration.chair, _reliable_s(touch)
    delay_s, slowing = chair.electronics_delay_s, chair.turn_deceleration_deg_s2
    if not forgiven or not reliable or touch is None or delay_s is None or slowing is None:
        return
    tightest = turn_rate_for_doorways(forgiven, reliable, delay_s, slowing)
    yield Fact(
        "turn_rate_all_doors",
        "steering",
        "fastest turn rate that passes every door on the list",
        "turn_rate",
        tightest.turn_rate_deg_s,
        touch.n,
        rows=touch.rows,
        keys=("spaces", "configuration.chair"),
        note=f"decided by the {tightest.tightest}",
        formula="turn rate at which one shortest touch turns the chair no further than the tightest door forgives",
    )


def _profiles(case: Case, touch: Fact | None) -> Iterator[Fact]:
    chair, reliable = case.configuration.chair, _reliable_s(touch)
    for index, profile in enumerate(case.configuration.profiles):
        if profile.turn_deg_s is None:
            continue
        keys = (f"configuration.profiles.{index}.turn_deg_s",)
        if reliable and touch is not None:
            turned = smallest_heading_change_deg(
                profile.turn_deg_s, reliable, chair.electronics_delay_s or 0.0, chair.turn_deceleration_deg_s2
            )
            lacks = _unknown_of_turns(chair)
            yield Fact(
                f"correction.{profile.id}",
                "steering",
                f"smallest correction, {profile.name} profile",
                "degrees",
                turned,
                touch.n,
                rows=touch.rows,
                keys=keys,
                note=f"at least: {' and '.join(lacks)} {'is' if len(lacks) == 1 else 'are'} not recorded"
                if lacks
                else "",
                formula="turn rate x (shortest touch + delay) + coast",
            )
        pads = any(feature.id == "head_array" for feature in case.configuration.features)
        if pads and profile.speed_m_s is not None:
            yield Fact(
                f"veer.{profile.id}",
                "steering",
                f"radius of the curve when rear and side pad act together, {profile.name} profile",
                "metres",
                veer_radius_m(profile.speed_m_s, profile.turn_deg_s),
                1,
                keys=(*keys, f"configuration.profiles.{index}.speed_m_s"),
                formula="radius = speed / turn rate",
                note="when the head leaves the rear pad in the turn, the chair turns in place",
            )


def _turning(case: Case) -> Iterator[Fact]:
    chair = case.configuration.chair
    keys: tuple[str, ...] = ("configuration.chair.turning_mm",)
    circle = chair.turning_mm
    width, length, to_front = chair.width_mm, chair.length_mm, chair.axle_to_front_mm
    if circle is None and width is not None and length is not None and to_front is not None:
        front = min(to_front, length)
        circle = pivot_circle_mm(width, front, length - front)
        keys = ("configuration.chair.width_mm", "configuration.chair.length_mm", "configuration.chair.axle_to_front_mm")
    if circle is None:
        return
    spaces = [space for space in case.spaces if space.turning_mm is not None]
    public = public_space("turning_circle")
    yield Fact(
        "turning_circle",
        "steering",
        "turning diameter of the chair",
        "millimetres",
        circle,
        1,
        side="up",
        keys=keys,
        formula="as recorded, or swept in place",
        note=""
        if spaces
        else f"no turning space is recorded; a public one is {public.inches * MM_PER_INCH:.0f} mm "
        f"({public.source}, {public.section})",
    )
    for index, space in enumerate(case.spaces):
        if space.turning_mm is not None:
            yield Fact(
                f"spare_turning.{space.id}",
                "steering",
                f"room to spare when turning, {space.name}",
                "millimetres",
                space.turning_mm - circle,
                1,
                side="down",
                keys=(*keys, f"spaces.{index}.turning_mm"),
                formula="diameter of the free floor - turning diameter",
            )
