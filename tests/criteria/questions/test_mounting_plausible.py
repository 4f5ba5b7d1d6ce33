"""What `mounting_plausible` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

FOOT = {"site": "foot", "limb": "left", "by": "evaluator", "gap_mm": 3}
STICK = FOOT | {"id": "stick", "part": "foot joystick", "side": "front", "gap_mm": 2, "shape": "round", "wide_mm": 38}
HEEL = FOOT | {"id": "heel", "part": "heel stop", "side": "back"}
SEAT = ("configuration.chair.seat_depth_mm", 440)
TALL = ("client.height_mm", 1620)

RECORDS = Records(
    "mounting_plausible",
    met=[
        ("the whole case", []),
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
