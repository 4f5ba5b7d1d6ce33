"""What `trial_is_recent` says of each record."""

from __future__ import annotations

from datetime import date

from changes import STICK
from records import Records
from whole_case import GONE, ROWS

RECORDS = Records(
    "trial_is_recent",
    met=[
        (
            "a last attempt long after the others",
            [],
            [*(row | {"date": date(2024, 3, 4)} for row in ROWS[:-1]), ROWS[-1] | {"date": date(2026, 3, 20)}],
        ),
        ("the whole case", []),
        ("a trial of a year before", [("dates.evaluated_on", date(2027, 3, 4))]),
    ],
    not_met=[
        ("a trial of three years before", [("dates.evaluated_on", date(2029, 4, 2))]),
    ],
    cannot_tell=[
        ("no date of the evaluation", [("dates.evaluated_on", GONE)]),
        ("no rows of the requested control", [], STICK),
        ("no rows at all", [], []),
    ],
    rests_on=("configuration.method", "dates.evaluated_on", "trial.methods.*", "trial.tasks"),
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()
