"""What `evaluation_before_order` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE, ROWS

_LATE = [*ROWS[:-1], ROWS[-1] | {"date": date(2026, 4, 9)}]

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
        (
            "an acceptance after the order, whatever the day of the evaluation",
            [("dates.evaluated_on", GONE), ("dates.accepted_on", date(2026, 4, 11))],
        ),
        (
            "an order before the evaluation, whatever the day of the acceptance",
            [("dates.accepted_on", GONE), ("dates.ordered_on", date(2026, 4, 1))],
        ),
        ("a trial day after the acceptance", [("dates.evaluated_on", GONE)], _LATE),
        ("a trial day after the acceptance, the report before both", [], _LATE),
        (
            "an order before the last trial day, which alone is recorded",
            [("dates.evaluated_on", GONE), ("dates.accepted_on", GONE), ("dates.ordered_on", date(2026, 3, 1))],
        ),
    ],
    cannot_tell=[
        ("no evaluation", [("dates.evaluated_on", GONE)]),
        ("no acceptance", [("dates.accepted_on", GONE)]),
        (
            "a screening after the acceptance, which another may have done",
            [("dates.evaluated_on", GONE), ("limits.0.on", date(2026, 4, 9))],
        ),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("dates", "accepted_on"), None)],
        "not_met": [(("dates", "accepted_on"), date(2026, 4, 20))],
    },
    rests_on=("dates.accepted_on", "dates.evaluated_on", "dates.ordered_on"),
)

test_each_record_gets_its_answer = RECORDS.test()
