"""What `reliable_is_counted` says of each record."""

from __future__ import annotations

from changes import MISSED_STOPS, STICK
from records import Records
from whole_case import ROWS, attempts

from docgen.evidence.stops_in_a_row import IN_A_ROW

WHY = [("training.stage_why", "Stop and all directions were reliable by the third day.")]
PADS = attempts("pads", "1" * 60)  # 15 of each task, over two days
COUNTED = STICK + PADS
STOPS = [row for row in PADS if row["task"] == "stop"]
DOORS = [row for row in PADS if row["task"] == "door"]
OTHERS = [row for row in PADS if row["task"] not in ("stop", "door")]


def just(missed):
    """Rows in which so many of the 15 tries at the door failed, with no more stops than it takes."""
    doors = [row | {"success": at >= missed} for at, row in enumerate(DOORS)]
    return STICK + OTHERS + doors + STOPS[:IN_A_ROW]


def since(n):
    """Rows in which the first stop was missed, and so many were made on the next day."""
    first, *others = STOPS
    return STICK + OTHERS + [first | {"success": False}, *(row | {"date": PADS[-1]["date"]} for row in others[:n])]


RECORDS = Records(
    "reliable_is_counted",
    met=[
        ("reliable, and counted so", WHY, COUNTED),
        ("thirteen of fifteen of a task, and as many stops as it takes", WHY, just(2)),
        ("a missed stop, and as many since as it takes", WHY, since(IN_A_ROW)),
    ],
    not_met=[
        ("reliable after six stops", WHY),
        ("reliable, every stop missed", WHY, MISSED_STOPS),
        ("twelve of fifteen of a task", WHY, just(3)),
        ("a missed stop, and one too few since", WHY, since(IN_A_ROW - 1)),
        ("stops every time, after six stops", [("letter.trial", "He stops every time.")]),
        ("reliable, and the last tries of a task failed", WHY, STICK + attempts("pads", "1" * 44 + "1101" * 4)),
    ],
    cannot_tell=[
        ("reliable, and no rows", WHY, ROWS[:16]),
        ("reliable, and no stop", WHY, [row for row in COUNTED if row["task"] != "stop"]),
        ("nothing called reliable, no word of why, and no stop", [], ROWS[:16]),
    ],
    does_not_apply=[
        ("the whole case", []),
        ("a word of why, and no stop", [("training.stage_why", "Corners were tried.")], ROWS[:16]),
        ("until it is reliable", [("letter.safety", "An aunt stays near until corners are reliable.")]),
        ("not reliable", [("training.stage_why", "Corners are not reliable yet.")]),
    ],
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks.*.shows"),
)

test_each_record_gets_its_answer = RECORDS.test()
