"""What `leisure_left_out` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "leisure_left_out",
    met=[
        ("no line for leisure", []),
        ("a purpose that only sounds like it", [("configuration.items.3.purpose", "transport in the van")]),
    ],
    not_met=[
        ("fishing", [("configuration.items.3.purpose", "for fishing from the bank")]),
        ("sports", [("configuration.items.0.purpose", "Mainly wheelchair sports.")]),
    ],
    cannot_tell=[
        ("a line without a reason", [("configuration.items.0.why", GONE)]),
    ],
    rests_on=("configuration.items.*.why",),
)

test_each_record_gets_its_answer = RECORDS.test()
