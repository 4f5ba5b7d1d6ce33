"""What `sharing_agreed` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

CHILD = [("client.born_on", "2018-05-14")]
PARENT = ("people.2.is_parent", True)

RECORDS = Records(
    "sharing_agreed",
    met=[
        ("an aunt who may know", []),
        ("an aunt with a name", [("people.2.relation", "her aunt"), ("people.2.name", "Al Example")]),
    ],
    cannot_tell=[
        ("an aunt of a child", [*CHILD, ("people.2.informed_on", GONE)]),
        ("a mother of an adult", [("people.2.relation", "mother"), PARENT, ("people.2.informed_on", GONE)]),
        ("a mother by her relation alone", [*CHILD, ("people.2.relation", "mother"), ("people.2.informed_on", GONE)]),
        ("no day", [("people.2.informed_on", GONE)]),
        (
            "no day for an aunt with a name",
            [("people.2.informed_on", GONE), ("people.2.relation", "her aunt"), ("people.2.name", "Al Example")],
        ),
    ],
    does_not_apply=[
        ("the parents of a child", [*CHILD, PARENT, ("people.2.informed_on", GONE)]),
        ("nobody to tell", [("people.2", GONE), ("taught", []), ("training", {})]),
    ],
    rests_on=("people.*.informed_on",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
