"""What `driving_shown` says of each record."""

from __future__ import annotations

from changes import MISSED_STOPS
from records import Records
from whole_case import CAREGIVER_DRIVES, GONE, ROWS, attempts

RECORDS = Records(
    "driving_shown",
    met=[
        ("attempts and stops", []),
        ("one attempt and one stop of many", [], ROWS[:16] + attempts("pads", "1100" + "0000" * 5)),
    ],
    not_met=[
        ("not one stop done", [], MISSED_STOPS),
        ("not one attempt done", [], ROWS[:16] + attempts("pads", "0" * 24)),
    ],
    cannot_tell=[
        ("no rows", [], ROWS[:16]),
        ("no requested control", [("configuration.method", GONE)]),
        ("no task that shows a stop", [("trial.tasks.1.shows", "steer")]),
    ],
    does_not_apply=[
        ("a caregiver who drives", CAREGIVER_DRIVES),
    ],
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks.*.shows"),
    rows_suffice=True,
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()
