"""What `left_out_explained` says of each record."""

from __future__ import annotations

from records import Records

RECLINE = {"id": "recline", "what": "power recline", "asked_by": "the school", "why_not": "Tilt relieves his seat."}

RECORDS = Records(
    "left_out_explained",
    met=[("left out, with who asked and why", [("left_out", [RECLINE])])],
    does_not_apply=[("nothing left out", [])],
    cannot_tell=[
        ("no reason", [("left_out", [RECLINE | {"why_not": None}])]),
        (
            "one without a reason, and one that nobody asked for",
            [("left_out", [RECLINE | {"why_not": None}, RECLINE | {"id": "horn", "what": "a horn", "asked_by": None}])],
        ),
        ("nobody who asked", [("left_out", [RECLINE, RECLINE | {"id": "horn", "what": "a horn", "asked_by": None}])]),
    ],
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
