"""What `diagnosis_codes_valid` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "diagnosis_codes_valid",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a heading", [("diagnoses.0.code", "G82.5")]),
        ("a code of no list", [("diagnoses.0.code", "G99.9")]),
        ("a heading among good codes", [("diagnoses.+", {"code": "G35", "name": "multiple sclerosis"})]),
    ],
    cannot_tell=[
        ("no diagnosis", [("diagnoses", [])]),
        ("no code", [("diagnoses.0.code", GONE)]),
        ("no code of one of two", [("diagnoses.+", {"name": "spinal muscular atrophy type 2"})]),
        ("no code, and a name like none of the list", [("diagnoses.0", {"name": "zzyzx"})]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("diagnoses", 0, "code"), None)],
        "not_met": [(("diagnoses", 0, "code"), "G35")],
    },
    rests_on=("diagnoses.*.code",),
)

test_each_record_gets_its_answer = RECORDS.test()
