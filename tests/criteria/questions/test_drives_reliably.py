"""What `drives_reliably` says of each record."""

from __future__ import annotations

from changes import STICK
from records import Records
from whole_case import GONE, attempts

RECORDS = Records(
    "drives_reliably",
    met=[
        ("the whole case", []),
        ("eight of ten attempts over two days", [], STICK + attempts("pads", "1111011101")),
    ],
    not_met=[
        ("fewer than eight of ten", [], STICK + attempts("pads", "10" * 12)),
    ],
    cannot_tell=[
        ("no rows", [], STICK),
        ("one day", [], STICK + attempts("pads", "1" * 24, days=1)),
        ("nine attempts", [], STICK + attempts("pads", "1" * 9)),
        ("no requested control", [("configuration.method", GONE)]),
    ],
    settings=[
        ({"least_days": 3}, [], "cannot_tell"),
        ({"least_attempts": 25}, [], "cannot_tell"),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("configuration", "method"), None)],
        "not_met": [(("configuration", "method"), "hand_stick")],
    },
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks"),
    rows_suffice=True,
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()
