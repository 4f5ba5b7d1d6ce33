"""What `same_practitioner` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "same_practitioner",
    met=[
        ("one practitioner", []),
    ],
    not_met=[
        ("another signer", [("order.signed_by", "ot")]),
        ("filled in by the supplier", [("order.completed_by", "atp")]),
    ],
    cannot_tell=[
        ("no word on who filled it in", [("order.completed_by", GONE)]),
        ("no word on the encounter", [("encounter.by", GONE)]),
    ],
    rests_on=("encounter.by", "order.completed_by", "order.signed_by"),
)

test_each_record_gets_its_answer = RECORDS.test()
