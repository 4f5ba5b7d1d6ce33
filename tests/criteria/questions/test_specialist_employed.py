"""What `specialist_employed` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "specialist_employed",
    met=[
        ("an employee", []),
        ("an employee without a name", [("people.1.name", GONE)]),
    ],
    not_met=[
        ("a contract", [("people.1.employment", "contract")]),
    ],
    cannot_tell=[
        ("no word", [("people.1.employment", GONE)]),
        ("no specialist", [("people.1.role", "other")]),
        (
            "one by contract, and of another it is not recorded",
            [("people.1.employment", "contract"), ("people.+", {"id": "second", "role": "supplier"})],
        ),
    ],
    rests_on=("people.*.employment",),
)

test_each_record_gets_its_answer = RECORDS.test()
