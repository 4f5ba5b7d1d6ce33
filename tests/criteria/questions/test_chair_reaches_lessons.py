"""What `chair_reaches_lessons` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

DOOR = ("client.not_measured", ["his bedroom", "the entrance of the house"])
AWAY = ("training.place", "the school hall, then his home")
TAKEN = ("delivery.to_lessons", "The supplier takes it there, empty, where it stays for the lessons.")

RECORDS = Records(
    "chair_reaches_lessons",
    met=[
        ("the supplier takes it to the school", [DOOR, AWAY, TAKEN]),
    ],
    cannot_tell=[
        ("an entrance not measured, lessons at school first", [DOOR, AWAY]),
        (
            "a door to the street not measured, lessons at the clinic first",
            [("client.not_measured", ["the door to the street"]), ("training.place", "a hall at the clinic, her home")],
        ),
    ],
    does_not_apply=[
        ("only a bedroom not measured", [("client.not_measured", ["his bedroom"]), AWAY]),
        ("lessons at home first", [DOOR, ("training.place", "the hall at home, then the school")]),
        ("no place of training", [DOOR, ("training.place", GONE)]),
        ("nothing left out", [("client.not_measured", []), AWAY]),
    ],
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
