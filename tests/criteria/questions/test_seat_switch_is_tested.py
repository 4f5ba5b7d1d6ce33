"""What `seat_switch_is_tested` says of each record."""

from __future__ import annotations

from emergencies import SEIZURE, step
from records import Records

OFF = SEIZURE["steps"][0]
GRAY = ("sitting.seat_switch", "gray switch, middle of the back")


def page(says, moves="upright"):
    """An emergency page with a step that moves the person."""
    return ("emergency", SEIZURE | {"steps": [OFF, step(says, moves)]})


RECORDS = Records(
    "seat_switch_is_tested",
    met=[
        ("the gray switch, which is recorded", [GRAY, page("Hold the gray switch up.")]),
        ("back by the gray switch", [GRAY, page("Hold the gray switch down.", "back")]),
        (
            "a lever of the stop",
            [
                ("configuration.stop.drive_off", "green lever"),
                GRAY,
                page("Green lever to the left, then the gray switch up."),
            ],
        ),
    ],
    not_met=[
        ("a switch that only the words on who moves it name", [page("Hold the gray switch up.")]),
        ("another switch than the recorded one", [GRAY, page("Hold the blue switch up.")]),
    ],
    cannot_tell=[("no diagnosis", [("diagnoses", []), ("conditions", [])])],
    does_not_apply=[("the whole case", []), ("upright by hand", [page("Sit the person up by hand.")])],
    ready={"does_not_apply": []},
    rests_on=("diagnoses.*",),
)

test_each_record_gets_its_answer = RECORDS.test()
