"""What `connection_code_fits_motors` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import ITEMS, SEAT_MOTORS, line
from records import Records
from whole_case import GONE

RECORDS = Records(
    "connection_code_fits_motors",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("the code of two motors with one", [("configuration.items.5.code", "E2311")]),
        ("two connections in one line", [("configuration.items.5.quantity", 2)]),
        ("both connections", [("configuration.items.+", LINE | {"code": "E2311"})]),
        ("no connection", [("configuration.items.5", GONE)]),
        ("fewer motors than the seat brings", [("configuration.chair.seat_actuators", 0)]),
    ],
    cannot_tell=[
        (
            "no number of motors",
            [("configuration.chair.seat_actuators", GONE), ("configuration.items.4.code", "E1010")],
        ),
        ("a connection without its code", [("configuration.items.5.code", GONE)]),
    ],
    does_not_apply=[
        (
            "the seat not moved by the drive control",
            [("configuration.items.5", GONE), ("configuration.features.3", GONE)],
        ),
    ],
    ready={
        "met": [(ITEMS, line("E2310")), (SEAT_MOTORS, 1)],
        "cannot_tell": [(ITEMS, line("E2310")), (SEAT_MOTORS, None)],
        "not_met": [(ITEMS, line("E2311")), (SEAT_MOTORS, 1)],
        "does_not_apply": [],
    },
    rests_on=("configuration.items.*.code",),
)

test_each_record_gets_its_answer = RECORDS.test()
