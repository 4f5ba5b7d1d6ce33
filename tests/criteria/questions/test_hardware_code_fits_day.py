"""What `hardware_code_fits_day` says of each record."""

from __future__ import annotations

from datetime import date

from changes import LINE
from ready_case import HARDWARE, ITEMS, only
from records import Records
from whole_case import GONE

RECORDS = Records(
    "hardware_code_fits_day",
    met=[
        ("the whole case", []),
        ("the code of other parts for a control at the head", [("configuration.items.3.code", "E1028")]),
        (
            "the code of other parts for a control at the head and one at the hand",
            [("configuration.items.3.code", "E1028"), ("configuration.items.+", LINE | {"code": "E2325"})],
        ),
        (
            "the code of other parts for a control at the head, which the payer has answered",
            [("configuration.items.3.code", "E1028"), ("configuration.items.3.payer_says", "E1028, by phone")],
        ),
        (
            "the code of other parts, before there were any of their own",
            [("configuration.items.3.supports", GONE), ("request.requested_on", date(2025, 3, 31))],
        ),
    ],
    not_met=[
        ("headrest hardware by the code of other parts", [("configuration.items.3.supports", "headrest")]),
        ("the code of a headrest for a control", [("configuration.items.3.code", "E1033")]),
        (
            "a code that had not begun",
            [("configuration.items.3.code", "E1032"), ("request.requested_on", date(2025, 3, 31))],
        ),
        (
            "the code of other parts for a control that is not at the head",
            [("configuration.items.0.code", "E2325"), ("configuration.items.3.code", "E1028")],
        ),
    ],
    cannot_tell=[
        ("no part", [("configuration.items.3.supports", GONE)]),
        ("no day", [("request.requested_on", GONE), ("dates.ordered_on", GONE)]),
    ],
    does_not_apply=[
        ("no swing-away hardware", [("configuration.items.3", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [((*ITEMS, HARDWARE, "supports"), None)],
        "not_met": [((*ITEMS, HARDWARE, "supports"), "headrest")],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    rests_on=("configuration.items.*.supports",),
)

test_each_record_gets_its_answer = RECORDS.test()
