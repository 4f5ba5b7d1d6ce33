"""What `rides_secured` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

HELD = ("chair_labeled", "four_tie_downs", "own_belt", "head_support")
TOLD = ("vehicle", "trained", "back_deg", "control", "loose_parts")
NO_HEADREST = [
    ("transport.control", "swung_away"),
    ("configuration.standard_parts.+", {"part": "headrest", "comes": "not_needed"}),
]

RECORDS = Records(
    "rides_secured",
    met=[
        ("the whole case", []),
        (
            "a strap for posture, and the belt of the vehicle",
            [("transport.vehicle", "a van; the chest strap stays on under the lap-and-shoulder belt")],
        ),
        (
            "pads at both sides of the head swung away, and no headrest ordered",
            [*NO_HEADREST, ("configuration.mounting.0", GONE)],
        ),
        ("the control locked, and by what", [("transport.control", "locked"), ("transport.lock", "the red catch")]),
        ("the control at the foot, clear of head and trunk", [("transport.control", "clear")]),
    ],
    not_met=[
        *((f"none: {key}", [(f"transport.{key}", "no")]) for key in HELD),
        ("a strap for posture", [("transport.vehicle", "a van; the chest strap holds her")]),
        ("the control stays", [("transport.control", "stays")]),
        (
            "the pads at the head swung away, and no headrest ordered",
            NO_HEADREST,
        ),
    ],
    cannot_tell=[
        ("the control locked, and no lock on record", [("transport.control", "locked")]),
        ("no word on the ride", [("transport", {})]),
        (
            "what the vehicle is said to have, and no more",
            [("transport", {"rides_in_chair": True, "vehicle": "a van, four tie-downs, a headrest"})],
        ),
        *((f"nobody could tell: {key}", [(f"transport.{key}", "unknown")]) for key in HELD),
        *((f"not said: {key}", [(f"transport.{key}", GONE)]) for key in (*HELD, *TOLD)),
    ],
    does_not_apply=[
        ("a client who moves to a seat", [("transport", {"rides_in_chair": False})]),
    ],
    rests_on=("transport.rides_in_chair", *(f"transport.{key}" for key in (*HELD, *TOLD))),
)

test_each_record_gets_its_answer = RECORDS.test()
