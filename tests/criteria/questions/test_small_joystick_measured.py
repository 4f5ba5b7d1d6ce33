"""What `small_joystick_measured` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ask, changed, grounds

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
        (
            "no travel, and less force than the class takes",
            [WEAK_HAND, ("configuration.items.0.code", "E2373"), SMALL[1], ("findings.3.measure", "pinch 300 g")],
        ),
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


def test_that_the_force_told_is_less_than_the_class_takes_is_said():
    def reason(measure, code="E2373"):
        changes = [WEAK_HAND, ("configuration.items.0.code", code), SMALL[1], ("findings.3.measure", measure)]
        return ask("small_joystick_measured", grounds(changed(*changes))).reason

    assert "the most told is 300 g, which is less" in reason("push 300 g, 12 mm") and "less" in reason("push 300 g")
    assert "which is less" not in reason("push 400 g, 12 mm") + reason("pinch 35 g, range 6 mm", "E2312")
