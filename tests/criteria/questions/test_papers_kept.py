"""What `papers_kept` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import DELIVERED, GONE

RECORDS = Records(
    "papers_kept",
    met=[
        ("seven years", DELIVERED),
    ],
    not_met=[
        ("a day less", [*DELIVERED, ("delivery.keep_until", date(2033, 8, 2))]),
    ],
    cannot_tell=[
        ("no day", [*DELIVERED, ("delivery.keep_until", GONE)]),
    ],
    does_not_apply=[
        ("no delivery", []),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
