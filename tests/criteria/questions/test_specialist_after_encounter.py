"""What `specialist_after_encounter` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE

RECORDS = Records(
    "specialist_after_encounter",
    met=[
        ("11 days later", []),
        ("the same day", [("dates.supplier_assessed_on", date(2026, 2, 20))]),
    ],
    not_met=[
        ("a day before", [("dates.supplier_assessed_on", date(2026, 2, 19))]),
    ],
    cannot_tell=[
        ("no encounter", [("dates.encounter_on", GONE)]),
    ],
    rests_on=("dates.encounter_on", "dates.supplier_assessed_on"),
)

test_each_record_gets_its_answer = RECORDS.test()
