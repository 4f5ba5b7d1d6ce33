"""What `minutes_of_help_fall` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ask, changed, grounds

MINUTES, LEVEL = "activities.0.minutes_with", "activities.0.with_device"

RECORDS = Records(
    "minutes_of_help_fall",
    met=[
        ("one minute before and none now", [(MINUTES, 0), ("activities.0.minutes_before", 1)]),
        ("the whole case", []),
        ("as many minutes, and no less help claimed", [(MINUTES, 18), (LEVEL, "done_for")]),
        ("nothing before to fall", [(MINUTES, 0), ("activities.0.minutes_before", 0)]),
    ],
    not_met=[
        ("as many minutes as before", [(MINUTES, 18)]),
        ("more minutes than before", [(MINUTES, 25)]),
    ],
    cannot_tell=[("no minutes", [(MINUTES, GONE), ("activities.1.minutes_with", GONE)])],
    ready={
        "met": [],
        "not_met": [(("activities", 0, "minutes_with"), 31)],
    },
    rests_on=("activities",),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_the_activity_is_named_with_both_counts():
    answer = ask("minutes_of_help_fall", grounds(changed((MINUTES, 25))))
    assert "reach the toilet: 18 minutes, then 25" in answer.reason
    assert ("activities", 0, "minutes_with") in answer.where
