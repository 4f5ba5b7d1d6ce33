"""What `control_code_fits_control` says of each record."""

from __future__ import annotations

from ready_case import FEATURES, ITEMS, only, without
from records import Records
from whole_case import GONE

ARRAY = {"id": "array", "name": "array of switches", "code": "E2322", "quantity": 1}

RECORDS = Records(
    "control_code_fits_control",
    met=[
        *(
            (
                f"{n} switches under the code of three to five",
                [
                    ("configuration.features.2", {"id": "contact_switch_sensing", "because": []}),
                    ("configuration.items.0", {**ARRAY, "features": ["contact_switch_sensing"]}),
                    ("configuration.switches", n),
                ],
            )
            for n in (3, 5)
        ),
        ("the whole case", []),
        (
            "a line that leaves it to the features of the whole control",
            [("configuration.items.0.features", ["head_array"])],
        ),
        (
            "four switches under the code of three to five",
            [
                ("configuration.features.2", {"id": "contact_switch_sensing", "because": []}),
                ("configuration.items.0", {**ARRAY, "features": ["contact_switch_sensing"]}),
                ("configuration.switches", 4),
            ],
        ),
    ],
    not_met=[
        (
            "six switches under the code of three to five",
            [
                ("configuration.features.2", {"id": "contact_switch_sensing", "because": []}),
                ("configuration.items.0", {**ARRAY, "features": ["contact_switch_sensing"]}),
                ("configuration.switches", 6),
            ],
        ),
        ("pushed switches for pads that sense", [("configuration.items.0.code", "E2329")]),
        ("a proportional code for pads that are on or off", [("configuration.items.0.code", "E2328")]),
        (
            "a code of on and off for a compact stick",
            [
                ("configuration.features.2", {"id": "compact_joystick", "because": []}),
                ("configuration.items.0.code", "E2321"),
            ],
        ),
        (
            "proportional_control under a code of on and off",
            [("configuration.items.0.features", ["proportional_control", "proximity_sensing"])],
        ),
        (
            "head_angle_proportional under a code of on and off",
            [("configuration.items.0.features", ["head_angle_proportional", "proximity_sensing"])],
        ),
        (
            "force_graded_speed under a code of on and off",
            [("configuration.items.0.features", ["force_graded_speed", "proximity_sensing"])],
        ),
        (
            "on and off under a code of a graded control",
            [("configuration.items.0.code", "E2328"), ("configuration.items.0.features", ["nonproportional_control"])],
        ),
    ],
    cannot_tell=[
        (
            "no feature that senses",
            [("configuration.features.2", GONE), ("configuration.items.0.features", ["head_array"])],
        ),
    ],
    does_not_apply=[
        ("no special control", [("configuration.items.0", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(FEATURES, without(id="proximity_sensing")), ((*ITEMS, 0, "features"), [])],
        "not_met": [((*ITEMS, 0, "code"), "E2329")],
        "does_not_apply": [(ITEMS, only("E1028"))],
    },
    rests_on=("configuration.items",),
)

test_each_record_gets_its_answer = RECORDS.test()
