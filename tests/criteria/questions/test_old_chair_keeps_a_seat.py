"""What `old_chair_keeps_a_seat` says of each record."""

from __future__ import annotations

from records import Records

CUSHION = ("configuration.chair.cushion", "His own cushion and back will be reused.")
NOW = "request.chair_now"
STAYS = (NOW, "A manual chair. He keeps it until the entrance is released.")
SEAT = ("request.chair_now_seat", "a seat that the supplier lends, fitted before his own moves")

RECORDS = Records(
    "old_chair_keeps_a_seat",
    met=[
        ("a lent seat in the old chair", [CUSHION, STAYS, SEAT]),
    ],
    cannot_tell=[
        ("an old chair that stays on, its cushion reused", [CUSHION, STAYS]),
        (
            "an old chair that goes back later, told in its history",
            [CUSHION, ("request.chair_now_history", "It goes back once she may drive on the ramp.")],
        ),
    ],
    does_not_apply=[
        ("the whole case", []),
        ("a new cushion", [("configuration.chair.cushion", "A new cushion."), STAYS]),
        ("an old chair that goes back", [CUSHION, (NOW, "A manual chair; it goes back.")]),
        ("an old chair collected after delivery", [CUSHION, (NOW, "A manual chair, collected after delivery.")]),
    ],
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
