"""What `driver_is_safe` says of each record."""

from __future__ import annotations

from changes import MISSED_STOPS
from records import Records
from whole_case import CAREGIVER_DRIVES, GONE, ROWS, attempts

RECORDS = Records(
    "driver_is_safe",
    met=[
        ("a client who drives", []),
        ("a caregiver who drives", CAREGIVER_DRIVES),
        ("eight of ten attempts", [], ROWS[:16] + attempts("pads", "1" * 16 + "0000")),
        (
            "with a collision, which is told",
            [],
            [row | {"contacts": int(at == 20), "distance_m": 4} for at, row in enumerate(ROWS)],
        ),
    ],
    not_met=[
        ("half of the attempts and half of the stops", [], ROWS[:16] + attempts("pads", "1" * 8 + "0" * 8)),
        ("more attempts missed than done", [], ROWS[:16] + attempts("pads", "0001" * 6)),
        ("every stop missed", [], MISSED_STOPS),
        ("a caregiver who is not willing", [*CAREGIVER_DRIVES, ("attendant.willing", False)]),
    ],
    cannot_tell=[
        ("no rows", [], ROWS[:16]),
        ("no requested control", [("configuration.method", GONE)]),
        ("no word on how the caregiver drove", [*CAREGIVER_DRIVES, ("attendant.drives_safely", GONE)]),
        ("no stop", [], [row for row in ROWS if row["task"] != "stop"]),
    ],
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks.*.shows"),
    rows_suffice=True,
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()
