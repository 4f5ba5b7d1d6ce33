"""What `attendant_control_grounds` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import CAREGIVER_DRIVES, GONE

RECORDS = Records(
    "attendant_control_grounds",
    met=[
        ("four grounds", CAREGIVER_DRIVES),
    ],
    not_met=[
        ("a caregiver who is not willing", [*CAREGIVER_DRIVES, ("attendant.willing", False)]),
    ],
    cannot_tell=[
        ("no word on pushing", [*CAREGIVER_DRIVES, ("attendant.cannot_push", GONE)]),
        ("nobody who drives", [("configuration.method", GONE)]),
    ],
    does_not_apply=[
        ("a client who drives", []),
        (
            "an attendant who does not drive, and no control yet",
            [("configuration.method", GONE), ("attendant.drives", False)],
        ),
    ],
    rests_on=("configuration.method",),
)

test_each_record_gets_its_answer = RECORDS.test()
