"""What `mounting_recorded` says of each record."""

from __future__ import annotations

from ready_case import MOUNTS
from records import Records
from whole_case import GONE

RECORDS = Records(
    "mounting_recorded",
    met=[
        ("the whole case", []),
        (
            "a part that touches and has no gap",
            [
                ("configuration.mounting.1.gap_mm", GONE),
                ("configuration.mounting.1.not_applicable", [{"of": "gap_mm", "because": "it touches at rest"}]),
            ],
        ),
    ],
    cannot_tell=[
        ("no part", [("configuration.mounting", [])]),
        ("no gap", [("configuration.mounting.1.gap_mm", GONE)]),
        ("no mark", [("configuration.mounting.1.mark", GONE)]),
        ("a roll asked for and not in the record", [("configuration.features.+", {"id": "suboccipital_support"})]),
        ("one pad of three left out", [("configuration.mounting.2", GONE)]),
        ("no mark of two parts", [(f"configuration.mounting.{at}.mark", GONE) for at in (0, 1)]),
    ],
    ready={"met": [], "cannot_tell": [((*MOUNTS, 0, "mark"), None)]},
    rests_on=(
        "configuration.mounting.*.at",
        "configuration.mounting.*.by",
        "configuration.mounting.*.gap_mm",
        "configuration.mounting.*.mark",
        "configuration.mounting.*.on",
    ),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
