"""What `rides_secured` says of each record."""

from __future__ import annotations

from records import Records

RIDES = [("transport", {"rides_in_chair": True, "vehicle": "a van, four tie-downs and a belt"})]

RECORDS = Records(
    "rides_secured",
    met=[
        ("a chair that is tied down and a pad behind the head", RIDES),
    ],
    not_met=[
        ("nothing that holds the chair", [*RIDES, ("transport.vehicle", "the family van")]),
        ("nothing behind the head", [*RIDES, ("configuration.mounting.0.site", "knee")]),
    ],
    cannot_tell=[
        ("the whole case", []),
        ("no word on the vehicle", [("transport", {"rides_in_chair": True})]),
    ],
    does_not_apply=[
        ("a client who moves to a seat", [("transport", {"rides_in_chair": False})]),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
