"""What `order_is_complete` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "order_is_complete",
    met=[
        ("six elements", []),
    ],
    not_met=[
        ("no signature", [("order.has", ["client", "items", "quantity", "date", "practitioner"])]),
    ],
    cannot_tell=[
        ("no word on what it holds", [("order.has", GONE)]),
    ],
    rests_on=("order.has",),
)

test_each_record_gets_its_answer = RECORDS.test()
