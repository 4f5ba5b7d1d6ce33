"""What `moved_over_parts_fit` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

CUSHION = "configuration.chair.cushion"
OUTGROWN = ("request.chair_now", "A manual chair, outgrown, goes back.")

RECORDS = Records(
    "moved_over_parts_fit",
    met=[
        ("the whole case", []),
        ("a cushion that moves over and still fits", [OUTGROWN, (CUSHION, "His cushion moves over; it still fits.")]),
        ("a chair on loan", [(CUSHION, "His own cushion moves over.")]),
    ],
    not_met=[
        ("a cushion of a chair that was outgrown", [OUTGROWN, (CUSHION, "His own cushion moves over.")]),
    ],
    cannot_tell=[
        ("no chair now", [("request.chair_now", GONE)]),
    ],
    rests_on=("request.chair_now",),
)

test_each_record_gets_its_answer = RECORDS.test()
