"""What `unclear_lines_settled` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import HARDWARE, ITEMS, without
from records import Records
from whole_case import GONE

RECORDS = Records(
    "unclear_lines_settled",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("hardware of a head control", [("configuration.items.3.payer_says", GONE)]),
        ("an attendant control", [("configuration.items.+", LINE | {"code": "E2331"})]),
        ("electronics by the number of motors alone", [("configuration.items.0", GONE)]),
        (
            "electronics for a control without a code",
            [("configuration.items.0.code", "K0108"), ("configuration.items.0.features", ["proximity_sensing"])],
        ),
        (
            "hardware of a head control beside another control",
            [("configuration.items.3.payer_says", GONE), ("configuration.items.+", LINE | {"code": "E2325"})],
        ),
    ],
    does_not_apply=[
        ("no line on which rules differ", [("configuration.items.3", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [((*ITEMS, HARDWARE, "payer_says"), None)],
        "does_not_apply": [(ITEMS, without(code="E1028"))],
    },
    rests_on=("configuration.items.*.code", "configuration.items.*.payer_says"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
