"""What `base_takes_the_controller` says of each record."""

from __future__ import annotations

from ready_case import BASE, ITEMS, only
from records import Records
from whole_case import GONE, WHOLE

RECORDS = Records(
    "base_takes_the_controller",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a base of group 2 without power options", [("configuration.chair.base_code", "K0823")]),
    ],
    cannot_tell=[
        ("no base", [("configuration.chair.base_code", GONE)]),
        ("a base of no list", [("configuration.chair.base_code", "K0899")]),
    ],
    does_not_apply=[
        ("no expandable controller", [("configuration.items", WHOLE["configuration"]["items"][3:])]),
        (
            "a control for a chair that has the controller",
            [("request.kind", "control_only"), ("configuration.chair.electronics_now", "The controller E2377.")],
        ),
        (
            "a control for a chair already there",
            [("request.kind", "control_only"), ("configuration.chair.base_code", GONE)],
        ),
    ],
    ready={
        "met": [],
        "cannot_tell": [(BASE, None)],
        "not_met": [(BASE, "K0823")],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    rests_on=("configuration.chair.base_code", "configuration.items"),
)

test_each_record_gets_its_answer = RECORDS.test()
