"""What `corrects_or_improves` says of each record."""

from __future__ import annotations

from datetime import date

from changes import YOUNG
from records import Records
from whole_case import GONE

RECORDS = Records(
    "corrects_or_improves",
    met=[
        ("what it maintains", [YOUNG, ("request.corrects", "Keeps what moving teaches.")]),
    ],
    cannot_tell=[
        ("no word", [YOUNG]),
        ("no day of birth", [("client.born_on", GONE)]),
    ],
    does_not_apply=[
        ("an adult", []),
        ("21 on the day", [("client.born_on", date(2005, 5, 4))]),
    ],
    rests_on=("client.born_on",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
