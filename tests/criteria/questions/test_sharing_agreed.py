"""What `sharing_agreed` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "sharing_agreed",
    met=[
        ("an aunt who may know", []),
        ("an aunt with a name", [("people.2.relation", "her aunt"), ("people.2.name", "Al Example")]),
    ],
    cannot_tell=[
        ("no day", [("people.2.informed_on", GONE)]),
        (
            "no day for an aunt with a name",
            [("people.2.informed_on", GONE), ("people.2.relation", "her aunt"), ("people.2.name", "Al Example")],
        ),
    ],
    does_not_apply=[
        ("nobody to tell", [("people.2", GONE), ("taught", []), ("training", {})]),
    ],
    rests_on=("people.*.informed_on",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
