"""What `held_stop_wakes_nothing` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE

DRIVE = ("configuration.commands", [{"does": "drive", "input": "hold the cheek switch for two seconds"}])
STAYS = ("configuration.stop.held_press", "stays")
ON, BY = ("configuration.stop.held_press_on", date(2026, 3, 6)), ("configuration.stop.held_press_by", "ot")

RECORDS = Records(
    "held_stop_wakes_nothing",
    met=[("held on, it stays stopped", [DRIVE, STAYS, ON, BY])],
    not_met=[("held on, it drives again", [DRIVE, ("configuration.stop.held_press", "drives")])],
    cannot_tell=[
        ("it stays stopped, and nobody says when it was tried", [DRIVE, STAYS, BY]),
        ("it stays stopped, and nobody says who tried it", [DRIVE, STAYS, ON]),
        ("it stays stopped, said from nowhere", [DRIVE, STAYS]),
        ("what happens when it is held on is not said", [DRIVE]),
        ("no word of a stop switch", [DRIVE, ("configuration.stop", {})]),
    ],
    does_not_apply=[
        ("there is no stop switch besides the power switch", [DRIVE, ("configuration.stop", {"has_switch": False})]),
        (
            "a helper has a stop of their own, the driver none, and the power switch is the driver's alone",
            [
                DRIVE,
                (
                    "configuration.stop",
                    {
                        "power_off": "at the joystick",
                        "power_off_by": "driver",
                        "helper": "presses it",
                        "driver": "lets go",
                        "helper_switch": "at the back",
                        "helper_stops_by": "own_switch",
                    },
                ),
            ],
        ),
        ("nothing sets the control back to drive", []),
        ("a stop for helpers alone", [DRIVE, ("configuration.stop.stop_switch_by", "helper")]),
        ("no stop switch", [DRIVE, ("configuration.stop.stop_switch", GONE)]),
    ],
    ready={"does_not_apply": []},
    rests_on=("configuration.stop",),
)

test_each_record_gets_its_answer = RECORDS.test()
