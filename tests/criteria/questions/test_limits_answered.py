"""What `limits_answered` says of each record."""

from __future__ import annotations

from ready_case import place
from records import Records
from whole_case import GONE

RECORDS = Records(
    "limits_answered",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("no screening", [("limits", [])]),
        ("whether a limit was found is not known", [("limits.1.found", GONE)]),
        ("a limit without an answer", [("limits.1.answer", GONE)]),
    ],
    does_not_apply=[
        ("no limit found", [("limits.1.found", False)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("limits", place("limits", "kind", "judgment"), "answer"), None)],
        "does_not_apply": [(("limits", place("limits", "kind", "judgment"), "found"), False)],
    },
    rests_on=("limits.*.answer", "limits.*.found"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
