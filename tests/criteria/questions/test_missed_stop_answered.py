"""What `missed_stop_answered` says of each record."""

from __future__ import annotations

from changes import STICK
from records import Records
from whole_case import ask, attempts, changed, grounds

FIRST_MISSED = STICK + attempts("pads", "101" + "1" * 21)  # the stop of the first day; the second day starts at 12
LAST_MISSED = STICK + attempts("pads", "1" * 21 + "011")
CHANGED = ("trial.after_miss", "A block holds the heel.")

RECORDS = Records(
    "missed_stop_answered",
    met=[("changed, and tried again", [CHANGED], FIRST_MISSED)],
    not_met=[("changed, and not tried again", [CHANGED], LAST_MISSED)],
    cannot_tell=[
        ("what was changed is not recorded", [], FIRST_MISSED),
        ("no task that shows a stop", [("trial.tasks.1.shows", "steer")]),
    ],
    does_not_apply=[("the whole case", [])],
    ready={"met": [], "cannot_tell": [(("trial", "after_miss"), None)]},
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks.*.shows"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_the_stops_of_later_days_alone_are_counted():
    """Twelve attempts a day, a stop every fourth: three stops on the second day."""
    answer = ask("missed_stop_answered", grounds(changed(CHANGED), FIRST_MISSED))
    assert answer.reason == "A block holds the heel. On days after the miss 3 of 3 stops on command were made."
