"""What `delivery_proven` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import DELIVERED, GONE

RECORDS = Records(
    "delivery_proven",
    met=[
        ("the client's signature", DELIVERED),
    ],
    not_met=[
        ("the supplier's signature", [*DELIVERED, ("delivery.signed_by", "supplier")]),
        ("a paper that lists nothing", [*DELIVERED, ("delivery.lists_items", False)]),
        ("another day", [*DELIVERED, ("delivery.signed_on", date(2026, 8, 4))]),
    ],
    cannot_tell=[
        ("no signature", [*DELIVERED, ("delivery.signed_by", GONE)]),
    ],
    does_not_apply=[
        ("no delivery", []),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
