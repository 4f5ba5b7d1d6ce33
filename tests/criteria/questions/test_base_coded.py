"""What `base_coded` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "base_coded",
    met=[
        ("a base that was looked up", []),
    ],
    not_met=[
        ("a base without a code", [("configuration.chair.base_code", "K0899")]),
    ],
    cannot_tell=[
        ("no day", [("order.base_looked_up_on", GONE)]),
        ("no base", [("configuration.chair.base_code", GONE)]),
    ],
    rests_on=("configuration.chair.base_code", "order.base_looked_up_on"),
)

test_each_record_gets_its_answer = RECORDS.test()
