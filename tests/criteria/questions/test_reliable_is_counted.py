"""What `reliable_is_counted` says of each record."""

from __future__ import annotations

from changes import MISSED_STOPS, STICK
from records import Records
from whole_case import ROWS, attempts

WHY = [("training.stage_why", "Stop and all directions were reliable by the third day.")]
COUNTED = STICK + attempts("pads", "1" * 60)

RECORDS = Records(
    "reliable_is_counted",
    met=[("reliable, and counted so", WHY, COUNTED)],
    not_met=[
        ("reliable after six stops", WHY),
        ("reliable, every stop missed", WHY, MISSED_STOPS),
        ("stops every time, after six stops", [("letter.trial", "He stops every time.")]),
        ("reliable, and the last tries of a task failed", WHY, STICK + attempts("pads", "1" * 44 + "1101" * 4)),
    ],
    cannot_tell=[("reliable, and no rows", WHY, ROWS[:16])],
    does_not_apply=[
        ("the whole case", []),
        ("until it is reliable", [("letter.safety", "An aunt stays near until corners are reliable.")]),
        ("not reliable", [("training.stage_why", "Corners are not reliable yet.")]),
    ],
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks.*.shows"),
)

test_each_record_gets_its_answer = RECORDS.test()
