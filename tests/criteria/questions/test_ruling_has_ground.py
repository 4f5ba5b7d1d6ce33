"""What `ruling_has_ground` says of each record."""

from __future__ import annotations

from changes import AS_GOOD, GOOD
from ready_case import ALT, STICK_AT
from records import Records
from whole_case import GONE

RECORDS = Records(
    "ruling_has_ground",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a ruling by a trial that does not bear it out", [], AS_GOOD),
    ],
    cannot_tell=[
        ("no alternative", [("alternatives", [])]),
        ("no ruling", [("alternatives.4.ruled_out_by", GONE)]),
        ("a trial without rows", [], GOOD),
        ("a trial without its method", [("alternatives.3.method", GONE)]),
        ("a condition without a reason", [("alternatives.4.reason", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [((ALT, STICK_AT, "ruled_out_by"), None)],
        "not_met": [(("configuration", "method"), "force_pads")],
    },
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()
