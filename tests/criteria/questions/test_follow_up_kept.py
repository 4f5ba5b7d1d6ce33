"""What `follow_up_kept` says of each record."""

from __future__ import annotations

from datetime import date

from changes import LESSONS
from records import Records
from whole_case import DELIVERED

LATE = LESSONS[0] | {"date": date(2026, 9, 1)}

RECORDS = Records(
    "follow_up_kept",
    met=[
        ("a first visit on its day", [*DELIVERED, ("follow_up.0.done_on", date(2026, 8, 17))]),
        ("lessons within the days of grace", [*DELIVERED, ("sessions", LESSONS)]),
        ("a lesson on the last day of grace", [*DELIVERED, ("sessions", [LESSONS[0] | {"date": date(2026, 8, 31)}])]),
    ],
    not_met=[
        ("lessons until long after the first visit was due", [*DELIVERED, ("sessions", [*LESSONS, LATE])]),
    ],
    cannot_tell=[
        ("no visit planned", [*DELIVERED, ("follow_up", [])]),
    ],
    does_not_apply=[
        ("no delivery", []),
        ("nothing since delivery", DELIVERED),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
