"""What `lesser_mobility_ruled_out` says of each record."""

from __future__ import annotations

from ready_case import ALT, place, without
from records import Records
from whole_case import GONE, WHOLE

RECORDS = Records(
    "lesser_mobility_ruled_out",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a scooter that is not ruled out", [("alternatives.2.ruled_out_by", "nothing")]),
        (
            "of two manual chairs the first not ruled out",
            [
                ("alternatives.1.ruled_out_by", "nothing"),
                ("alternatives.+", WHOLE["alternatives"][1] | {"id": "light"}),
            ],
        ),
    ],
    cannot_tell=[
        ("no scooter", [("alternatives.2", GONE)]),
        ("a ruling without a reason", [("alternatives.0.reason", GONE)]),
        ("a reason without a ruling", [("alternatives.1.ruled_out_by", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [((ALT,), without(kind="scooter"))],
        "not_met": [((ALT, place(ALT, "kind", "scooter"), "ruled_out_by"), "nothing")],
    },
    rests_on=("alternatives.*.reason", "alternatives.*.ruled_out_by"),
)

test_each_record_gets_its_answer = RECORDS.test()
