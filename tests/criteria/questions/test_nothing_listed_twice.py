"""What `nothing_listed_twice` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import ITEMS, line
from records import Records
from whole_case import GONE

SWITCHES = ("configuration.items.+", LINE | {"code": "K0108", "name": "Stop switches"})
ARMRESTS = ("configuration.items.+", LINE | {"id": "rests", "code": "K0020"})

RECORDS = Records(
    "nothing_listed_twice",
    met=[
        ("the whole case", []),
        ("hardware of an unknown part, and no control that swings", [("configuration.items.3.supports", GONE)]),
        (
            "hardware of the headrest beside a control that swings",
            [("configuration.items.0.code", "E2325"), ("configuration.items.3.supports", "headrest")],
        ),
        ("an item that has no code, and says so", [("configuration.items.+", LINE | {"no_code": True})]),
        ("a part of its own under no code", [("configuration.items.+", LINE | {"code": "K0108"})]),
    ],
    not_met=[
        ("hardware that the control includes", [("configuration.items.0.code", "E2325")]),
        (
            "hardware of a drive control by its own code",
            [("configuration.items.0.code", "E2325"), ("configuration.items.3.code", "E1032")],
        ),
        (
            "a stop switch by its feature",
            [
                ("configuration.items.+", LINE | {"code": "K0108", "features": ["stop_switch"]}),
                ("configuration.features.+", {"id": "stop_switch", "because": []}),
            ],
        ),
        ("a stop switch by its name", [("configuration.items.+", LINE | {"code": "K0108", "name": "Stop switches"})]),
        ("two parts that are included", [SWITCHES, ARMRESTS]),
        ("three parts that are included", [SWITCHES, ARMRESTS, ("configuration.items.0.code", "E2325")]),
        ("armrests that come with the tilt", [("configuration.items.+", LINE | {"code": "K0020"})]),
    ],
    cannot_tell=[
        ("a line without a code", [("configuration.items.4.code", GONE)]),
        (
            "hardware of an unknown part beside a control that swings",
            [("configuration.items.0.code", "E2325"), ("configuration.items.3.supports", GONE)],
        ),
        (
            "hardware that holds nothing told, beside two controls of which one swings away",
            [("configuration.items.3.supports", GONE), ("configuration.items.+", LINE | {"code": "E2325"})],
        ),
    ],
    ready={
        "met": [],
        "cannot_tell": [((*ITEMS, 1, "code"), None)],
        "not_met": [(ITEMS, line("K0108", features=["stop_switch"]))],
    },
    rests_on=("configuration.items.*.code",),
)

test_each_record_gets_its_answer = RECORDS.test()
