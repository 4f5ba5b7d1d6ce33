"""What `need_in_daily_life` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "need_in_daily_life",
    met=[
        ("one at home and one away", []),
        ("one away alone", [("activities.0", GONE)]),
    ],
    cannot_tell=[
        ("not said whether at home", [("activities.0.at_home", GONE)]),
        ("no barrier", [("activities.0.barrier", GONE), ("activities.1.barrier", GONE)]),
    ],
    rests_on=("activities.*.at_home",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
