"""What `stop_rules_kept` says of each record."""

from __future__ import annotations

from changes import LESSONS
from records import Records
from whole_case import DELIVERED, ask, changed, grounds

TOUCHED = LESSONS[0] | {"success": False, "contacts": 1, "person_contacts": 1}
MISSED = LESSONS[0] | {"task": "stop_word", "success": False}

RECORDS = Records(
    "stop_rules_kept",
    met=[
        ("lessons without a warning", [*DELIVERED, ("sessions", LESSONS)]),
        (
            "a person touched, and cleared on the next row",
            [*DELIVERED, ("sessions", [TOUCHED, LESSONS[1] | {"cleared_by": "OT, by phone"}])],
        ),
        ("a warning in the last try", [*DELIVERED, ("sessions", [LESSONS[0], TOUCHED])]),
        (
            "one warning cleared, and one in the last try",
            [
                *DELIVERED,
                (
                    "sessions",
                    [TOUCHED, LESSONS[1] | {"cleared_by": "OT, by phone"}, TOUCHED | {"date": LESSONS[1]["date"]}],
                ),
            ],
        ),
    ],
    not_met=[
        ("a person touched, and driven on", [*DELIVERED, ("sessions", [TOUCHED, LESSONS[1]])]),
        ("two stops missed, and driven on", [*DELIVERED, ("sessions", [MISSED, MISSED, LESSONS[1]])]),
        (
            "tiredness at the limit, and a next lesson",
            [*DELIVERED, ("sessions", [LESSONS[0] | {"fatigue_after": 8.0}, LESSONS[1]])],
        ),
        ("four times driven on", [*DELIVERED, ("sessions", [TOUCHED, LESSONS[1]] * 4)]),
        ("three times driven on", [*DELIVERED, ("sessions", [TOUCHED, LESSONS[1]] * 3)]),
    ],
    cannot_tell=[
        ("no lesson recorded", DELIVERED),
    ],
    does_not_apply=[
        ("no delivery", []),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_stop_rule_that_waits_is_not_told_as_cleared():
    told = {
        cleared: ask(
            "stop_rules_kept", grounds(changed(*DELIVERED, ("sessions", [LESSONS[0], TOUCHED | cleared_by])))
        ).reason
        for cleared, cleared_by in ((True, {"cleared_by": "OT, by phone"}), (False, {}))
    }
    assert (
        "driving went on only after it was cleared" in told[True]
        and "nobody has driven since the last, which is not cleared yet" in told[False]
    )
