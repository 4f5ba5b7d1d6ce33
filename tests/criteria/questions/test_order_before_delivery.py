"""What `order_before_delivery` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import DELIVERED, GONE

RECORDS = Records(
    "order_before_delivery",
    met=[
        ("receipt before delivery", DELIVERED),
        ("receipt on the day of delivery", [*DELIVERED, ("order.received_on", date(2026, 8, 3))]),
    ],
    not_met=[
        ("receipt after delivery", [*DELIVERED, ("order.received_on", date(2026, 8, 4))]),
        (
            "an order after delivery, whenever it was received",
            [*DELIVERED, ("order.received_on", GONE), ("dates.ordered_on", date(2026, 8, 4))],
        ),
        ("receipt before it was written", [("order.received_on", date(2026, 4, 9))]),
    ],
    cannot_tell=[
        ("no day of receipt", [("order.received_on", GONE)]),
        ("no day of the order", [("dates.ordered_on", GONE)]),
    ],
    does_not_apply=[
        ("no delivery", []),
    ],
    rests_on=("dates.ordered_on", "order.received_on"),
)

test_each_record_gets_its_answer = RECORDS.test()
