"""What `own_code_needed` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import ITEMS, line
from records import Records

BEAMS = {
    "id": "beams",
    "name": "beams",
    "code": "K0108",
    "features": ["optical_beam_sensing", "swing_away_mount"],
    "why": "No other control is reached.",
}

RECORDS = Records(
    "own_code_needed",
    met=[
        ("the whole case", []),
        (
            "a control that has no code, with its reason",
            [
                ("configuration.features.+", {"id": "optical_beam_sensing", "because": []}),
                ("configuration.items.+", BEAMS),
            ],
        ),
    ],
    not_met=[
        (
            "a control that has a code",
            [("configuration.items.0.code", "K0108"), ("configuration.items.0.features", ["proximity_sensing"])],
        ),
        (
            "a small joystick, which has a code",
            [("configuration.items.0.code", "K0108"), ("configuration.items.0.features", ["mini_joystick"])],
        ),
        (
            "a direction switch that comes with the control",
            [("configuration.items.+", LINE | {"code": "K0108", "name": "direction switch"})],
        ),
        ("lights", [("configuration.items.+", LINE | {"code": "K0108", "purpose": "run the lights"})]),
    ],
    cannot_tell=[
        ("a line of which nothing shows a control", [("configuration.items.+", LINE | {"code": "K0108"})]),
        (
            "a control that has no code, without a reason",
            [
                ("configuration.features.+", {"id": "optical_beam_sensing", "because": []}),
                ("configuration.items.+", {key: value for key, value in BEAMS.items() if key != "why"}),
            ],
        ),
    ],
    ready={
        "met": [],
        "cannot_tell": [(ITEMS, line("K0108"))],
        "not_met": [((*ITEMS, 0, "code"), "K0108")],
    },
    rests_on=("configuration.items",),
)

test_each_record_gets_its_answer = RECORDS.test()
