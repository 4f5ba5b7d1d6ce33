"""What `specialist_in_person` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "specialist_in_person",
    met=[
        ("in person, with a record", []),
    ],
    not_met=[
        ("by video", [("people.1.took_part", "video")]),
        ("on paper", [("people.1.took_part", "on_paper")]),
    ],
    cannot_tell=[
        ("no word on how", [("people.1.took_part", GONE)]),
        ("no record", [("people.1.own_record", GONE)]),
        ("no specialist", [("people.1.role", "other")]),
    ],
    settings=[
        ({"keys": ["took_part"]}, [("people.1.own_record", GONE)], "met"),
        ({"asks_all": False}, [("people.1.own_record", GONE)], "does_not_apply"),
        ({"asks_all": False}, [("people.1.took_part", "on_paper")], "not_met"),
    ],
    rests_on=("people.*.own_record", "people.*.took_part"),
)

test_each_record_gets_its_answer = RECORDS.test()
