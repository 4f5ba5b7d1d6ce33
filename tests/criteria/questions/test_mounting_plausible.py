"""What `mounting_plausible` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "mounting_plausible",
    met=[
        ("the whole case", []),
        (
            "heights alone",
            [(f"configuration.mounting.{at}.gap_mm", GONE) for at in range(3)]
            + [("configuration.mounting.0.height_mm", 600)],
        ),
    ],
    not_met=[
        ("two sides far apart", [("configuration.mounting.1.gap_mm", 45)]),
        ("a head wider than any of 6068 adults", [("client.head", {"width_mm": 190})]),
        ("a neck that turns too far", [("client.head", {"turn_left_deg": 95})]),
    ],
    cannot_tell=[
        ("no part", [("configuration.mounting", [])]),
    ],
    rests_on=("configuration.mounting",),
)

test_each_record_gets_its_answer = RECORDS.test()
