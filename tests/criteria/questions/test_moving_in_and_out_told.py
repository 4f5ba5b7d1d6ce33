"""What `moving_in_and_out_told` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "moving_in_and_out_told",
    met=[("the whole case", []), ("the client moves alone", [("sitting.moved_by", 0)])],
    cannot_tell=[
        ("not said how many it takes", [("sitting.moved_by", GONE)]),
        ("not said in which order", [("sitting.moving", GONE)]),
        ("no finding", [("findings", [])]),
    ],
    does_not_apply=[
        ("no lift and no slide", [("findings.1.id", "trunk_weak")]),
        (
            "the client stands up, and nobody lifts",
            [("findings.1.id", "transfer_standing"), ("sitting.moved_by", GONE), ("sitting.moving", GONE)],
        ),
        (
            "the client stands up, and nobody moves her",
            [("findings.1.id", "transfer_standing"), ("sitting.moved_by", 0)],
        ),
    ],
    only_recorded=True,
    rests_on=("findings", "sitting.moved_by", "sitting.moving"),
)

test_each_record_gets_its_answer = RECORDS.test()
