"""What `minutes_left_are_told` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ask, changed, grounds

LEFT, LEVEL, MINUTES = "activities.0.left", "activities.0.with_device", "activities.0.minutes_with"
OTHER = [("activities.1.minutes_with", 0)]

RECORDS = Records(
    "minutes_left_are_told",
    met=[
        ("the whole case", []),
        ("one minute left, and what it is for", [(MINUTES, 1)]),
        ("nothing said where an aide helps by hand", [(LEFT, GONE), (LEVEL, "hands_on")]),
        ("nothing said where the device is only set up", [(LEFT, GONE), (LEVEL, "set_up")]),
    ],
    cannot_tell=[
        ("no activity", [("activities", [])]),
        ("supervision with minutes, and not what for", [(LEFT, GONE)]),
        ("independence with minutes, and not what for", [(LEFT, GONE), (LEVEL, "alone")]),
    ],
    does_not_apply=[("no minutes left", [(MINUTES, 0), *OTHER])],
    ready={
        "met": [],
        "cannot_tell": [(("activities", 0, "left"), None)],
    },
    only_recorded=True,
    rests_on=("activities.*.left",),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_the_activity_is_named_and_its_key_is_what_settles_it():
    answer = ask("minutes_left_are_told", grounds(changed((LEFT, GONE))))
    assert answer.reason.endswith("is not recorded: reach the toilet.")
    assert answer.mend.fill == ("left",) and ("activities", 0, "minutes_with") in answer.where
