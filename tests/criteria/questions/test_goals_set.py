"""What `goals_set` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "goals_set",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("no goal", [("goals", [])]),
        ("four levels", [("goals.0.levels.0", GONE)]),
    ],
    ready={"met": [], "cannot_tell": [(("goals", 0, "levels"), [])]},
    rests_on=("goals.*.levels.*",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
