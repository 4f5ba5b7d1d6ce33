"""What `small_joystick_measured` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

SMALL = [("configuration.items.0.code", "E2312"), ("configuration.items.0.because", ["hand_weak_graded"])]
WEAK_HAND = (
    "findings.+",
    {"id": "hand_weak_graded", "says": "Moves a light stick.", "measure": "pinch 35 g, range 6 mm"},
)

RECORDS = Records(
    "small_joystick_measured",
    met=[
        ("a force and a travel", [WEAK_HAND, *SMALL]),
        (
            "a force of one finding and a travel of another",
            [
                WEAK_HAND,
                *SMALL,
                ("findings.3.measure", "pinch 35 g"),
                ("findings.+", WEAK_HAND[1] | {"id": "finger_isolated", "measure": "6 mm"}),
                ("configuration.items.0.because", ["hand_weak_graded", "finger_isolated"]),
            ],
        ),
    ],
    cannot_tell=[
        ("no travel", [WEAK_HAND, *SMALL, ("findings.3.measure", "pinch 35 g")]),
        ("no force", [WEAK_HAND, *SMALL, ("findings.3.measure", "6 mm")]),
        ("no measure", [WEAK_HAND, *SMALL, ("findings.3.measure", GONE)]),
        ("a measure of something else", [SMALL[0], ("configuration.items.0.because", ["pressure_risk"])]),
    ],
    does_not_apply=[
        ("a head array", []),
    ],
    rests_on=("configuration.items",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
