"""What `history_told` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "history_told",
    met=[
        ("the whole history", []),
    ],
    cannot_tell=[
        ("no diagnosis", [("diagnoses", [])]),
        ("no course", [("diagnoses.0.course", GONE)]),
        ("no function", [("client.function", GONE)]),
        ("nothing tried", [("alternatives", [])]),
    ],
    rests_on=("alternatives", "client.function", "diagnoses.*.course", "diagnoses.*.since"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
