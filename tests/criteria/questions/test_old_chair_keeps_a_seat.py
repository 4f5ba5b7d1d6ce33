"""What `old_chair_keeps_a_seat` says of each record."""

from __future__ import annotations

from records import Records

REUSED, STAYS = ("configuration.chair.cushion_reused", True), ("request.chair_now_stays", True)
CUSHION = ("configuration.chair.cushion", "His own cushion and back will be reused.")
SEAT = ("request.chair_now_seat", "a seat that the supplier lends, fitted before his own moves")

RECORDS = Records(
    "old_chair_keeps_a_seat",
    met=[
        ("a lent seat in the old chair", [REUSED, STAYS, SEAT]),
    ],
    cannot_tell=[
        ("an old chair that stays on, its cushion reused", [REUSED, STAYS]),
        ("a cushion that is reused, and not whether the old chair stays", [REUSED]),
        ("an old chair that stays on, and a cushion in words alone", [CUSHION, STAYS]),
        ("a cushion in words alone", [CUSHION]),
    ],
    does_not_apply=[
        ("the whole case", []),
        ("a new cushion", [CUSHION, ("configuration.chair.cushion_reused", False), STAYS]),
        ("an old chair that goes back", [REUSED, ("request.chair_now_stays", False)]),
    ],
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
