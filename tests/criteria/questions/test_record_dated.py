"""What `record_dated` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import DELIVERED, GONE

RECORDS = Records(
    "record_dated",
    met=[
        ("rows of the day of the delivery", [("dates.delivered_on", date(2026, 3, 4))]),
        ("days and authors", []),
        ("the same, delivered", DELIVERED),
    ],
    not_met=[
        ("a finding after delivery", [*DELIVERED, ("findings.0.on", date(2026, 8, 4))]),
        ("rows after delivery", [("dates.delivered_on", date(2026, 3, 3))]),
    ],
    cannot_tell=[
        ("three findings without their day", [(f"findings.{at}.on", GONE) for at in range(3)]),
        (
            "three findings and a screening without their day",
            [("limits.0.on", GONE), *((f"findings.{at}.on", GONE) for at in range(3))],
        ),
        ("a finding without its day", [("findings.0.on", GONE)]),
        ("a screening without its author", [("limits.0.by", GONE)]),
        ("no finding", [("findings", []), ("configuration.features", []), ("configuration.items", [])]),
    ],
    settings=[
        ({"tables": ["findings", "limits"]}, [("limits", [])], "met"),
    ],
    rests_on=("alternatives.*.by", "alternatives.*.on", "findings.*.by", "findings.*.on", "limits.*.by", "limits.*.on"),
)

test_each_record_gets_its_answer = RECORDS.test()
