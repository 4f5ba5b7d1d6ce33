"""What `mounting_plausible` says of each record."""

from __future__ import annotations

from typing import Any

from records import Records
from whole_case import GONE

FOOT = {"site": "foot", "limb": "left", "by": "evaluator", "gap_mm": 3}
STICK = FOOT | {"id": "stick", "part": "foot joystick", "side": "front", "gap_mm": 2, "shape": "round", "wide_mm": 38}
HEEL = FOOT | {"id": "heel", "part": "heel stop", "side": "back"}
SEAT = ("configuration.chair.seat_depth_mm", 440)
TALL = ("client.height_mm", 1620)

BUTTON = FOOT | {"id": "button", "part": "button", "side": "left", "near": "heel", "gap_mm": 20}
TOE = STICK | {"near": "big_toe"}


def _behind_ear(depth_mm: float) -> list[tuple[str, Any]]:
    """The back of the head 3 mm behind the zero of depth, a pad 90 mm long at the left ear."""
    return [
        ("configuration.mounting.0.depth_mm", -18),
        ("configuration.mounting.1.near", "behind_ear"),
        ("configuration.mounting.1.wide_mm", 90),
        ("configuration.mounting.1.depth_mm", depth_mm),
    ]


RECORDS = Records(
    "mounting_plausible",
    met=[
        ("the whole case", []),
        ("a pad behind the ear that leaves it free", _behind_ear(15)),
        (
            "a button beside a heel, and a joystick inward of it",
            [
                ("configuration.mounting.+", HEEL | {"midline_mm": -95}),
                ("configuration.mounting.+", BUTTON | {"midline_mm": -150}),
                ("configuration.mounting.+", TOE | {"midline_mm": -75}),
            ],
        ),
        (
            "heights alone",
            [(f"configuration.mounting.{at}.gap_mm", GONE) for at in range(3)]
            + [("configuration.mounting.0.height_mm", 600)],
        ),
        (
            "a heel stop under the front edge of the seat, with room for the shoe",
            [
                SEAT,
                TALL,
                ("configuration.mounting.+", STICK | {"depth_mm": 691}),
                ("configuration.mounting.+", HEEL | {"depth_mm": 430}),
            ],
        ),
    ],
    not_met=[
        ("a pad that is behind the ear and reaches over it", _behind_ear(65)),
        ("the same beside a head of known length", [*_behind_ear(25), ("client.head", {"length_mm": 180})]),
        (
            "a button that leaves 50 mm for half a heel",
            [
                ("configuration.mounting.+", HEEL | {"midline_mm": -95}),
                ("configuration.mounting.+", BUTTON | {"midline_mm": -165}),
            ],
        ),
        (
            "a joystick at the big toe straight ahead of the heel",
            [
                ("configuration.mounting.+", HEEL | {"midline_mm": -95}),
                ("configuration.mounting.+", TOE | {"midline_mm": -95}),
            ],
        ),
        ("a heel stop 140 mm under the seat", [SEAT, ("configuration.mounting.+", HEEL | {"depth_mm": 300})]),
        (
            "no room for a shoe between joystick and heel stop",
            [
                TALL,
                ("configuration.mounting.+", STICK | {"depth_mm": 675}),
                ("configuration.mounting.+", HEEL | {"depth_mm": 430}),
            ],
        ),
        ("two sides far apart", [("configuration.mounting.1.gap_mm", 45)]),
        ("a head wider than any of 6068 adults", [("client.head", {"width_mm": 190})]),
        ("a neck that turns too far", [("client.head", {"turn_left_deg": 95})]),
    ],
    cannot_tell=[
        ("no part", [("configuration.mounting", [])]),
        ("no gap and no height", [(f"configuration.mounting.{at}.gap_mm", GONE) for at in range(3)]),
    ],
    rests_on=("configuration.mounting",),
)

test_each_record_gets_its_answer = RECORDS.test()
