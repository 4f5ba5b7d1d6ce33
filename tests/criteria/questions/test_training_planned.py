"""What `training_planned` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "training_planned",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("no coach", [("training.coach", GONE)]),
        ("no plan", [("training", GONE)]),
    ],
    ready={"met": [], "cannot_tell": [(("training", "coach"), None)]},
    rests_on=(
        "training.coach",
        "training.minutes",
        "training.place",
        "training.sessions_a_week",
        "training.stage",
        "training.start_on",
    ),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
