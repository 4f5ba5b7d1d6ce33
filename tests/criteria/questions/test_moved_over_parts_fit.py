"""What `moved_over_parts_fit` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

CUSHION = "configuration.chair.cushion"
SEAT = ("request.chair_now", "A manual chair; its seat of 11 in (280 by 300 mm) cannot be set larger.")
OUTGROWN = ("request.chair_now", "A manual chair, outgrown, goes back.")

RECORDS = Records(
    "moved_over_parts_fit",
    met=[
        ("the whole case", []),
        ("a cushion that moves over and still fits", [OUTGROWN, (CUSHION, "His cushion moves over; it still fits.")]),
        ("a cushion as large as the seat", [SEAT, (CUSHION, "His own cushion (300 by 320 mm) fits and is reused.")]),
        ("a larger cushion that is new", [SEAT, (CUSHION, "A new cushion (320 by 340 mm).")]),
        ("a chair on loan", [(CUSHION, "His own cushion moves over.")]),
    ],
    not_met=[
        ("a cushion of a chair that was outgrown", [OUTGROWN, (CUSHION, "His own cushion moves over.")]),
        ("a cushion wider than the seat", [SEAT, (CUSHION, "His own cushion (301 by 300 mm) fits and is reused.")]),
        ("a cushion deeper than the seat", [SEAT, (CUSHION, "His own cushion (280 by 321 mm) fits and is reused.")]),
    ],
    cannot_tell=[
        ("no chair now", [("request.chair_now", GONE)]),
    ],
    settings=[
        ({"wider_mm": 50.0}, [SEAT, (CUSHION, "His own cushion (330 by 350 mm) fits and is reused.")], "met"),
    ],
    rests_on=("request.chair_now",),
)

test_each_record_gets_its_answer = RECORDS.test()
