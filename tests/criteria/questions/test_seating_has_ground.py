"""What `seating_has_ground` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "seating_has_ground",
    met=[
        ("skin at risk", []),
        (
            "skin at risk, and pressure that was not mapped",
            [("configuration.items.4.why", "The pressure was not mapped.")],
        ),
    ],
    cannot_tell=[
        ("another finding", [("configuration.items.4.because", ["head_three_way"])]),
        ("nothing behind it", [("configuration.items.4.because", [])]),
    ],
    does_not_apply=[
        ("no power seat", [("configuration.items.4", GONE)]),
    ],
    settings=[
        ({"codes": ["E2298"]}, [], "does_not_apply"),
        ({"findings": ["spasm_sudden"]}, [("configuration.items.4.serves", "catheter")], "met"),
        (
            {"findings": ["spasm_sudden"], "dependent": ["transfer_slide"]},
            [("configuration.items.4.serves", "catheter")],
            "cannot_tell",
        ),
    ],
    rests_on=("configuration.items.*.because.*",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
