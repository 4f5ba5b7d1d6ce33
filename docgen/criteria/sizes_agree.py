"""Sizes of the chair, of the client and of the parts at the head that contradict each other; their sources stand with
the criterion `values_agree`."""

from __future__ import annotations

import math
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.doubt import Doubt, contradiction
from docgen.fit.mounting import AT_HEAD
from docgen.grammar import with_verb

# share of the client's height, least and most
OF_HEIGHT = {
    "seat_depth_mm": ("seat", 0.15, 0.385),
    "leg_mm": ("footplate", 0.12, 0.34),
    "back_height_mm": ("back", 0.14, 0.56),
}
HEAD_OF_HEIGHT = (0.2, 0.6)  # of a part at the head, above the seat
# hip breadth is this times the root of kg per meter of height (men of ANSUR II by their means: 379 mm, 85.5 kg,
# 1.756 m)
HIP, NARROWEST = 54.3, 0.9
ROUND = (0.9, 1.2)  # circumference of the head by that of an ellipse of its width and length
_CHAIR: KeyPath = ("configuration", "chair")


def doubts_of_sizes(case: Case) -> Iterator[Doubt]:
    """Each size that another does not allow."""
    yield from _chair_and_body(case)
    yield from _head(case)


def _chair_and_body(case: Case) -> Iterator[Doubt]:
    chair, height, weight = case.configuration.chair, case.client.height_mm, case.client.weight_kg
    for name, (words, low, high) in OF_HEIGHT.items():
        value = getattr(chair, name)
        if height and value and not low * height <= value <= high * height:
            yield contradiction(
                f"The {words} of {value:g} mm does not fit a height of {height:g} mm",
                [
                    (f"configuration.chair.{name}", (*_CHAIR, name), value, low * height, high * height),
                    ("client.height_mm", ("client", "height_mm"), height, value / high, value / low),
                ],
            )
    if height and weight and (seat := chair.seat_width_mm):
        hips = HIP * math.sqrt(weight / (height / 1000))
        if seat < NARROWEST * hips:
            most_kg = (seat / NARROWEST / HIP) ** 2 * height / 1000
            yield contradiction(
                f"The seat of {seat:g} mm is narrow for {weight:g} kg at a height of {height:g} mm, of which the hips "
                f"are about {hips:.0f} mm",
                [
                    ("client.weight_kg", ("client", "weight_kg"), weight, most_kg / 3, most_kg),
                    ("configuration.chair.seat_width_mm", (*_CHAIR, "seat_width_mm"), seat, hips, hips * 1.4),
                ],
                bears=True,
            )
    for inner, outer in (
        ("seat_width_mm", "width_mm"),
        ("seat_depth_mm", "length_mm"),
        ("axle_to_front_mm", "length_mm"),
    ):
        a, b = getattr(chair, inner), getattr(chair, outer)
        if a and b and a > b:
            yield contradiction(
                f"Of the chair, {inner} is {a:g} and {outer} is {b:g}",
                [
                    (f"configuration.chair.{inner}", (*_CHAIR, inner), a, b / 4, b),
                    (f"configuration.chair.{outer}", (*_CHAIR, outer), b, a, a * 4),
                ],
            )


def _head(case: Case) -> Iterator[Doubt]:
    head, height = case.client.head, case.client.height_mm
    for at, mount in enumerate(case.configuration.mounting):
        path: KeyPath = ("configuration", "mounting", at)
        if height and mount.site in AT_HEAD and mount.height_mm:
            low, high = (share * height for share in HEAD_OF_HEIGHT)
            if not low <= mount.height_mm <= high:
                yield contradiction(
                    f"The {with_verb(mount.part, 'is')} {mount.height_mm:g} mm above the seat, at the head of a client "
                    f"of {height:g} mm",
                    [("configuration.mounting.height_mm", (*path, "height_mm"), mount.height_mm, low, high)],
                )
        if head.width_mm and mount.site in ("head_left", "head_right") and mount.gap_mm:
            most = head.width_mm / 2
            if mount.gap_mm > most:
                yield contradiction(
                    f"The gap of the {mount.part} is {mount.gap_mm:g} mm, more than half of a head {head.width_mm:g} "
                    "mm wide",
                    [("configuration.mounting.gap_mm", (*path, "gap_mm"), mount.gap_mm, 1, 40)],
                )
    if head.width_mm and head.length_mm and head.circumference_mm:
        about = math.pi * (head.width_mm + head.length_mm) / 2
        if not ROUND[0] <= head.circumference_mm / about <= ROUND[1]:
            yield contradiction(
                f"A head {head.width_mm:g} mm wide and {head.length_mm:g} mm long is about {about:.0f} mm around, "
                f"and {head.circumference_mm:g} mm is recorded",
                [
                    (f"client.head.{name}", ("client", "head", name), value, low, high)
                    for name, value, low, high in (
                        ("circumference_mm", head.circumference_mm, about * ROUND[0], about * ROUND[1]),
                        ("width_mm", head.width_mm, 105, 185),
                        ("length_mm", head.length_mm, 130, 235),
                    )
                ],
            )
