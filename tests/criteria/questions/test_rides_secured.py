"""What `rides_secured` says of each record."""

from __future__ import annotations

from records import Records

RECORDS = Records(
    "rides_secured",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("nothing that holds the chair", [("transport.vehicle", "the family van")]),
        ("nothing behind the head", [("configuration.mounting.0.site", "knee")]),
    ],
    cannot_tell=[
        ("no word on the ride", [("transport", {})]),
        ("no word on the vehicle", [("transport", {"rides_in_chair": True})]),
    ],
    does_not_apply=[
        ("a client who moves to a seat", [("transport", {"rides_in_chair": False})]),
    ],
    rests_on=("transport.rides_in_chair", "transport.vehicle"),
)

test_each_record_gets_its_answer = RECORDS.test()
