"""What `delivered_in_time` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import DELIVERED, GONE

RECORDS = Records(
    "delivered_in_time",
    met=[
        ("delivery in the fourth month", DELIVERED),
    ],
    not_met=[
        ("delivery a day too late", [*DELIVERED, ("dates.delivered_on", date(2026, 10, 25))]),
        ("delivery before the decision", [*DELIVERED, ("dates.delivered_on", date(2026, 4, 23))]),
    ],
    cannot_tell=[
        ("no day of the decision", [*DELIVERED, ("authorization.decided_on", GONE)]),
    ],
    does_not_apply=[
        ("no delivery", []),
        ("a base on no list", [*DELIVERED, ("configuration.chair.base_code", "K0891")]),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
