"""What `need_lasts` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

SHORT = ("request.months_needed", 2)

RECORDS = Records(
    "need_lasts",
    met=[
        ("60 months", []),
        ("two months of a condition that stays", [SHORT]),
        (
            "three months of one that passes",
            [("request.months_needed", 3), ("diagnoses.0.course", "recovering")],
        ),
    ],
    not_met=[
        ("two months of one that passes", [SHORT, ("diagnoses.0.course", "recovering")]),
    ],
    cannot_tell=[
        ("no months", [("request.months_needed", GONE)]),
        ("two months and no course", [SHORT, ("diagnoses.0.course", GONE)]),
    ],
    rests_on=("request.months_needed",),
)

test_each_record_gets_its_answer = RECORDS.test()
