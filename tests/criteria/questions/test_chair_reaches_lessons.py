"""What `chair_reaches_lessons` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

LEFT_OUT = ("client.not_measured", ["his bedroom", "the entrance of the house"])
WAY_OUT, AWAY = ("client.way_out_measured", False), ("training.starts_at_home", False)
PLACE = ("training.place", "the school hall, then his home")
TAKEN = ("delivery.to_lessons", "The supplier takes it there, empty, where it stays for the lessons.")

RECORDS = Records(
    "chair_reaches_lessons",
    met=[
        ("the supplier takes it to the school", [LEFT_OUT, WAY_OUT, AWAY, TAKEN]),
    ],
    cannot_tell=[
        ("an entrance not measured, lessons at school first", [LEFT_OUT, WAY_OUT, AWAY]),
        ("a way out not measured, and no room named", [WAY_OUT, AWAY]),
        ("places left out, and not whether they are on the way out", [LEFT_OUT, AWAY]),
        ("an entrance not measured, and not where lessons begin", [LEFT_OUT, WAY_OUT, PLACE]),
        ("neither of them", [LEFT_OUT, PLACE]),
    ],
    does_not_apply=[
        ("a way out that was measured", [LEFT_OUT, ("client.way_out_measured", True), AWAY]),
        ("lessons at home first", [LEFT_OUT, WAY_OUT, ("training.starts_at_home", True)]),
        ("no place of training", [LEFT_OUT, ("training.place", GONE)]),
        ("nothing left out", [("client.not_measured", []), AWAY]),
    ],
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
