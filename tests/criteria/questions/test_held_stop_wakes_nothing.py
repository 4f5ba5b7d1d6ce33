"""What `held_stop_wakes_nothing` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

DRIVE = ("configuration.commands", [{"does": "drive", "input": "hold the cheek switch for two seconds"}])

RECORDS = Records(
    "held_stop_wakes_nothing",
    met=[("held on, it stays stopped", [DRIVE, ("configuration.stop.held_press", "stays")])],
    not_met=[("held on, it drives again", [DRIVE, ("configuration.stop.held_press", "drives")])],
    cannot_tell=[
        ("what happens when it is held on is not said", [DRIVE]),
        ("no word of a stop switch", [DRIVE, ("configuration.stop", {})]),
    ],
    does_not_apply=[
        ("nothing sets the control back to drive", []),
        ("a stop for helpers alone", [DRIVE, ("configuration.stop.stop_switch_by", "helper")]),
        ("no stop switch", [DRIVE, ("configuration.stop.stop_switch", GONE)]),
    ],
    ready={"does_not_apply": []},
    rests_on=("configuration.stop",),
)

test_each_record_gets_its_answer = RECORDS.test()
