"""What `evaluation_before_order` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE

RECORDS = Records(
    "evaluation_before_order",
    met=[
        ("the whole case", []),
        ("all on one day", [(f"dates.{key}_on", date(2026, 4, 2)) for key in ("evaluated", "accepted", "ordered")]),
    ],
    not_met=[
        ("an evaluation after the order", [("dates.ordered_on", date(2026, 4, 1))]),
        ("an acceptance before the evaluation", [("dates.accepted_on", date(2026, 4, 1))]),
        ("an acceptance after the order", [("dates.accepted_on", date(2026, 4, 11))]),
    ],
    cannot_tell=[
        ("no evaluation", [("dates.evaluated_on", GONE)]),
        ("no acceptance", [("dates.accepted_on", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("dates", "accepted_on"), None)],
        "not_met": [(("dates", "accepted_on"), date(2026, 4, 20))],
    },
    rests_on=("dates.accepted_on", "dates.evaluated_on", "dates.ordered_on"),
)

test_each_record_gets_its_answer = RECORDS.test()
