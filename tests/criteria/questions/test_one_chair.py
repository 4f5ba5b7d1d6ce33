"""What `one_chair` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "one_chair",
    met=[
        ("one chair", []),
    ],
    not_met=[
        ("a second chair", [("request.keeps_other_chair", True)]),
    ],
    cannot_tell=[
        ("no word on another", [("request.keeps_other_chair", GONE)]),
        ("no chair of now", [("request.chair_now", GONE)]),
    ],
    rests_on=("request.chair_now", "request.keeps_other_chair"),
)

test_each_record_gets_its_answer = RECORDS.test()
