"""What `limits_screened` says of each record."""

from __future__ import annotations

from ready_case import without
from records import Records
from whole_case import GONE

RECORDS = Records(
    "limits_screened",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("no screening of vision", [("limits.2", GONE)]),
        ("whether anything was found is not known", [("limits.2.found", GONE)]),
        ("a screening without what was seen", [("limits.2.says", GONE)]),
    ],
    settings=[
        ({"kinds": ["hearing"]}, [], "cannot_tell"),
    ],
    ready={"met": [], "cannot_tell": [(("limits",), without(kind="vision"))]},
    rests_on=("limits.*.says",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
