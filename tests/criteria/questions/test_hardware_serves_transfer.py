"""What `hardware_serves_transfer` says of each record."""

from __future__ import annotations

from ready_case import HARDWARE, ITEMS, only
from records import Records
from whole_case import GONE

SERVES, PURPOSE = "configuration.items.3.serves", "configuration.items.3.purpose"

RECORDS = Records(
    "hardware_serves_transfer",
    met=[
        ("the whole case", []),
        ("care, and no purpose in words", [(SERVES, "care"), (PURPOSE, GONE)]),
    ],
    not_met=[
        ("a table", [(SERVES, "surface"), (PURPOSE, "to get close to tables")]),
        ("a surface that the words do not name", [(SERVES, "surface"), (PURPOSE, "to sit where she works")]),
    ],
    cannot_tell=[
        ("what it serves is not recorded", [(SERVES, GONE)]),
        ("a transfer in free words alone", [(SERVES, GONE), (PURPOSE, "a sling transfer")]),
        ("a transfer, and words that name a table too", [(PURPOSE, "sling transfers and the table")]),
        ("something else", [(SERVES, "other"), (PURPOSE, "comfort")]),
    ],
    does_not_apply=[
        ("no swing-away hardware", [("configuration.items.3", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [((*ITEMS, HARDWARE, "serves"), None)],
        "not_met": [((*ITEMS, HARDWARE, "serves"), "surface")],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    rests_on=("configuration.items.*.serves",),
)

test_each_record_gets_its_answer = RECORDS.test()
