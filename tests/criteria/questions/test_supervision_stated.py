"""What `supervision_stated` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

ALONE = {"place": "in her own room", "level": "on_call", "by": "an aunt"}

RECORDS = Records(
    "supervision_stated",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("no place", [("supervision", [])]),
        ("hours alone of which nothing else is recorded", [("supervision.+", ALONE)]),
        ("nobody named", [("supervision.0.by", GONE)]),
    ],
    ready={"met": [], "cannot_tell": [(("supervision", 0, "by"), None)]},
    rests_on=("supervision.*.by",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
