"""What `drive_off_before_power` says of each record."""

from __future__ import annotations

from datetime import time

from emergencies import SEEN, SEIZURE, step
from records import Records

LEVER = ("configuration.stop.drive_off", "green lever, left of the back; turn it to the left")
SAFE = ("sitting.while_off", "Lever F left, key B on, only the gray switch.")
LIVE = "Key on, then the gray switch."


def pages(*steps):
    """An emergency page with these steps."""
    return ("emergency", SEIZURE | {"steps": list(steps)})


def in_answer(words, ask="chair_off"):
    """What the emergency page says of a chair that is off, or was stopped."""
    return (
        "conditions",
        [{"id": "autonomic_dysreflexia", "answers": [{"ask": ask, "says": words, **SEEN}]}],
    )


def alone(**keys):
    """Hours alone, with other keys."""
    return ("supervision.+", {"place": "at home, alone", "level": "on_call", **keys})


def visited(words):
    """Hours alone in which somebody looks in and does this."""
    return alone(looks_in=[{"who": "aunt", "at": time(12, 0), "helps_with": words}])


RECORDS = Records(
    "drive_off_before_power",
    met=[
        ("lever, then key", [LEVER, SAFE]),
        ("the lever by its name", [LEVER, ("sitting.while_off", "Green lever left, turn the key on, gray switch.")]),
        (
            "the first step of the page locks the drive for all that follow",
            [
                LEVER,
                SAFE,
                pages(step("Green lever to the left.", "drive_off"), step("Key on. Gray switch up.", "upright")),
            ],
        ),
        ("the answer of a chair that is off", [LEVER, SAFE, in_answer("driving off first (F), then key on")]),
        ("a visitor", [LEVER, SAFE, visited("green lever left, then key on")]),
        (
            "a stop let out after the lever",
            [LEVER, SAFE, in_answer("F left, then turn A until it is out", "stop_pressed")],
        ),
    ],
    not_met=[
        ("key alone", [LEVER, ("sitting.while_off", LIVE)]),
        ("key, then lever", [LEVER, ("sitting.while_off", "Key on, green lever left, gray switch.")]),
        ("with no power", [LEVER, SAFE, ("sitting.no_power", "Turn the key on. Still dead: two people lift.")]),
        ("a helper's weight shift", [LEVER, SAFE, ("weight_shift.helper", "Anyone. Turn it on, then the switch.")]),
        ("on a ride", [LEVER, SAFE, ("transport.says", "Stop on the level, key on, then the gray switch.")]),
        ("the answer of a chair that is off", [LEVER, SAFE, in_answer("key on first")]),
        (
            "a stop let out before the lever",
            [LEVER, SAFE, in_answer("Turn A until it pops out, F left", "stop_pressed")],
        ),
        ("before somebody leaves", [LEVER, SAFE, alone(for_now="Power on, then she may tilt.")]),
        ("a visitor", [LEVER, SAFE, visited("key on, green lever left")]),
        (
            "the page powers the seat before it locks the drive",
            [LEVER, SAFE, pages(step("Key on.", "upright"), step("Green lever to the left.", "drive_off"))],
        ),
    ],
    cannot_tell=[("no word of how it is stopped", [("configuration.stop", {})])],
    does_not_apply=[
        ("the whole case", []),
        ("no words of power", [LEVER, ("sitting.while_off", "Gray switch alone.")]),
    ],
    ready={"does_not_apply": []},
    rests_on=("configuration.stop",),
)

test_each_record_gets_its_answer = RECORDS.test()
