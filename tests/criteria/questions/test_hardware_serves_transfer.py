"""What `hardware_serves_transfer` says of each record."""

from __future__ import annotations

from ready_case import HARDWARE, ITEMS, only
from records import Records
from whole_case import GONE

RECORDS = Records(
    "hardware_serves_transfer",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a table", [("configuration.items.3.purpose", "to get close to tables")]),
    ],
    cannot_tell=[
        ("no purpose", [("configuration.items.3.purpose", GONE)]),
        ("a table and a transfer", [("configuration.items.3.purpose", "sling transfers and the table")]),
        ("a purpose that is neither", [("configuration.items.3.purpose", "comfort")]),
    ],
    does_not_apply=[
        ("no swing-away hardware", [("configuration.items.3", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [((*ITEMS, HARDWARE, "purpose"), None)],
        "not_met": [((*ITEMS, HARDWARE, "purpose"), "roll under the kitchen table")],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    rests_on=("configuration.items.*.purpose",),
)

test_each_record_gets_its_answer = RECORDS.test()
