"""What `unclear_lines_settled` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import HARDWARE, ITEMS, without
from records import Records
from whole_case import GONE

NO_MOTORS = [("configuration.chair.seat_actuators", GONE), ("configuration.items.4", GONE)]
NO_CONTROL = [("configuration.items.0", GONE)]

RECORDS = Records(
    "unclear_lines_settled",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("hardware of a head control", [("configuration.items.3.payer_says", GONE)]),
        ("an attendant control", [("configuration.items.+", LINE | {"code": "E2331"})]),
        ("electronics by the number of motors alone", NO_CONTROL),
        (
            "electronics by the number of motors alone, of which nothing is recorded",
            [*NO_MOTORS, *NO_CONTROL],
        ),
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
        (
            "hardware of a control that is not at the head",
            [("configuration.items.0.code", "E2325"), ("configuration.items.3.payer_says", GONE)],
        ),
        (
            "electronics with tilt, recline and shear of three motors",
            [("configuration.items.4.code", "E1008"), ("configuration.items.3", GONE), ("configuration.items.0", GONE)],
        ),
        (
            "electronics for a control without a code and one with a code",
            [
                ("configuration.items.3", GONE),
                ("configuration.items.0.code", "K0108"),
                ("configuration.items.0.features", ["proximity_sensing"]),
                ("configuration.items.+", LINE | {"code": "E2325"}),
            ],
        ),
    ],
    settings=[
        ({"points": ["motor_count"]}, NO_CONTROL, "cannot_tell"),
        ({"points": ["motor_count"]}, [*NO_MOTORS, *NO_CONTROL], "cannot_tell"),
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
