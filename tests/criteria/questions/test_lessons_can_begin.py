"""What `lessons_can_begin` says of each record."""

from __future__ import annotations

from changes import GOOD, STICK
from gathered import of_each
from records import Records
from whole_case import WHOLE, ask, grounds

RECORDS = Records(
    "lessons_can_begin",
    not_met=[
        (
            "tired at the end of the last day, in one of two ratings",
            [],
            STICK + GOOD[:12] + [row | {"fatigue_after": 3 + 6 * (at % 2)} for at, row in enumerate(GOOD[12:])],
        ),
        ("tired at the end of the last day", [], STICK + GOOD[:12] + [row | {"fatigue_after": 9} for row in GOOD[12:]]),
    ],
    ready={"met": [], "cannot_tell": [(("configuration", "method"), None)]},
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks"),
    rows_suffice=True,
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


@of_each(
    ("reading", "status"),
    [
        ({}, "met"),
        ({"fatigue_before": 8}, "not_met"),
        ({"fatigue_before": 7, "fatigue_after": 7}, "met"),
        ({"fatigue_after": 9}, "not_met"),
        ({"pain_after": 5}, "not_met"),
        ({"pain_before": 4, "pain_after": 4}, "met"),
        ({"fatigue_after": None}, "cannot_tell"),
    ],
)
def test_a_lesson_that_the_stop_rules_would_end_at_once_is_told(reading, status):
    first, last = GOOD[:12], [row | reading for row in GOOD[12:]]
    assert ask("lessons_can_begin", grounds(WHOLE, STICK + first + last)).status == status
    assert (
        ask("lessons_can_begin", grounds(WHOLE, STICK + [row | reading for row in first] + GOOD[12:])).status == "met"
    )  # another day
