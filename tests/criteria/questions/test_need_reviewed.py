"""What `need_reviewed` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE

RECORDS = Records(
    "need_reviewed",
    met=[
        ("73 days before", []),
        ("a year before", [("request.reviewed_on", date(2025, 5, 4))]),
    ],
    not_met=[
        ("a year and a day before", [("request.reviewed_on", date(2025, 5, 3))]),
    ],
    cannot_tell=[
        ("no review", [("request.reviewed_on", GONE)]),
    ],
    settings=[
        ({"months": 2}, [], "not_met"),
    ],
    rests_on=("request.requested_on", "request.reviewed_on"),
)

test_each_record_gets_its_answer = RECORDS.test()
