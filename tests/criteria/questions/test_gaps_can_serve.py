"""What `gaps_can_serve` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "gaps_can_serve",
    met=[
        ("the whole case", []),
        ("a pad 100 mm away", [("configuration.mounting.1.gap_mm", 100)]),
    ],
    not_met=[
        ("a pad at arm's length", [("configuration.mounting.1.gap_mm", 400)]),
        ("a pad 101 mm away", [("configuration.mounting.1.gap_mm", 101)]),
    ],
    cannot_tell=[
        ("no gap", [(f"configuration.mounting.{place}.gap_mm", GONE) for place in range(3)]),
        ("no mounting record", [("configuration.mounting", [])]),
    ],
    does_not_apply=[
        (
            "parts that are touched, and switches that a force presses",
            [
                *((f"configuration.mounting.{place}.gap_mm", GONE) for place in range(3)),
                *((f"configuration.mounting.{place}.touches", True) for place in range(2)),
                ("configuration.mounting.2.site", "forearm"),
                ("configuration.mounting.2.force_g", 110),
            ],
        )
    ],
    rests_on=("configuration.mounting",),
)

test_each_record_gets_its_answer = RECORDS.test()
