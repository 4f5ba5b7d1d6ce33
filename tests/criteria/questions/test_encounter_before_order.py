"""What `encounter_before_order` says of each record."""

from __future__ import annotations

from datetime import date

from ready_case import place
from records import Records
from whole_case import GONE

RECORDS = Records(
    "encounter_before_order",
    met=[
        ("the whole case", []),
        ("an order on the day of the encounter", [("dates.ordered_on", date(2026, 2, 20))]),
    ],
    not_met=[
        ("an order before the encounter", [("dates.ordered_on", date(2026, 2, 19))]),
        ("an order too long after the encounter", [("dates.ordered_on", date(2026, 8, 21))]),
    ],
    cannot_tell=[
        ("no encounter", [("dates.encounter_on", GONE)]),
        ("no order", [("dates.ordered_on", GONE)]),
    ],
    settings=[
        ({"months": 1}, [], "not_met"),
    ],
    ready={
        "met": [],
        "cannot_tell": [
            (("dates", "encounter_on"), None),
            (("visits", place("visits", "id", "encounter"), "id"), "another"),
        ],
        "not_met": [(("dates", "encounter_on"), date(2025, 10, 1))],
    },
    rests_on=("dates.encounter_on", "dates.ordered_on"),
)

test_each_record_gets_its_answer = RECORDS.test()
