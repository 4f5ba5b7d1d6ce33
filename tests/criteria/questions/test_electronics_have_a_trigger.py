"""What `electronics_have_a_trigger` says of each record."""

from __future__ import annotations

from ready_case import ITEMS, SEAT_MOTORS, only, without
from records import Records
from whole_case import GONE, WHOLE

RECORDS = Records(
    "electronics_have_a_trigger",
    met=[
        ("the whole case", []),
        (
            "three seat motors and no special control",
            [("configuration.items.0", GONE), ("configuration.chair.seat_actuators", 3)],
        ),
    ],
    not_met=[
        ("one seat motor and no special control", [("configuration.items.0", GONE)]),
        (
            "three seat motors through the drive control and no controller",
            [
                ("configuration.items.0", GONE),
                ("configuration.items.0", GONE),
                ("configuration.items.0", GONE),
                ("configuration.chair.seat_actuators", 3),
            ],
        ),
    ],
    cannot_tell=[
        (
            "no special control and no number of motors",
            [
                ("configuration.items", WHOLE["configuration"]["items"][1:3]),
                ("configuration.chair.seat_actuators", GONE),
            ],
        ),
    ],
    does_not_apply=[
        ("neither the control nor its electronics", [("configuration.items", WHOLE["configuration"]["items"][3:])]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(ITEMS, without(code="E2330")), (SEAT_MOTORS, None)],
        "not_met": [(ITEMS, without(code="E2330"))],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    rests_on=("configuration.items",),
)

test_each_record_gets_its_answer = RECORDS.test()
