"""What `base_group_fits_diagnosis` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "base_group_fits_diagnosis",
    met=[
        ("a neurological condition", []),
        ("a myopathy", [("diagnoses.0.group", "myopathy")]),
    ],
    not_met=[
        ("another condition", [("diagnoses.0.group", "other")]),
    ],
    cannot_tell=[
        ("no kind of condition", [("diagnoses.0.group", GONE)]),
        ("no base", [("configuration.chair.base_code", GONE)]),
        (
            "one diagnosis of another kind, and one of which no kind is recorded",
            [("diagnoses.0.group", "other"), ("diagnoses.+", {"code": "R26.2", "name": "difficulty in walking"})],
        ),
    ],
    does_not_apply=[
        ("a base of group 2", [("configuration.chair.base_code", "K0835")]),
    ],
    rests_on=("configuration.chair.base_code", "diagnoses.*.group"),
)

test_each_record_gets_its_answer = RECORDS.test()
