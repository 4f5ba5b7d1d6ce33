"""What `remedy_is_new` says of each record."""

from __future__ import annotations

from changes import MISSED_STOPS
from records import Records
from whole_case import attempts

DRIED = ("trial.after_miss", "Since then the sole is wiped dry.")

RECORDS = Records(
    "remedy_is_new",
    met=[
        ("dried since, and not said to have been dry", [DRIED], MISSED_STOPS),
        ("dried since, and dry on the last day", [DRIED, ("trial.limits", "On May 3 the shoe was dry.")], MISSED_STOPS),
        (
            "a block since, and dry on all days",
            [("trial.after_miss", "A block."), ("trial.limits", "Dry on all days.")],
            MISSED_STOPS,
        ),
    ],
    not_met=[
        (
            "dried since, and dry on all days",
            [DRIED, ("trial.limits", "No ramp. The shoe was dry on all days.")],
            MISSED_STOPS,
        ),
        (
            "closed since, and always closed",
            [("trial.after_miss", "The strap is closed."), ("trial.seating", "strap always closed")],
            MISSED_STOPS,
        ),
    ],
    cannot_tell=[("nothing said of after it", [], MISSED_STOPS)],
    does_not_apply=[
        ("the whole case", []),
        ("no stop asked for", [], [row for row in attempts("pads", "1" * 24) if row["task"] != "stop"]),
    ],
    ready={"met": []},
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks.*.shows"),
)

test_each_record_gets_its_answer = RECORDS.test()
