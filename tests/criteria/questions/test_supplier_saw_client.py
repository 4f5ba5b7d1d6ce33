"""What `supplier_saw_client` says of each record."""

from __future__ import annotations

from datetime import date

from ready_case import SUPPLIER
from records import Records
from whole_case import GONE

RECORDS = Records(
    "supplier_saw_client",
    met=[
        ("a specialist who came on the day of the encounter", [("dates.supplier_assessed_on", date(2026, 2, 20))]),
        ("the whole case", []),
    ],
    not_met=[
        ("a specialist who came before the encounter", [("dates.supplier_assessed_on", date(2026, 2, 19))]),
    ],
    cannot_tell=[
        ("no specialist", [("people.1.role", "other")]),
        ("no credential", [("people.1.credential", GONE)]),
        ("no day", [("dates.supplier_assessed_on", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("people", SUPPLIER, "credential"), None)],
        "not_met": [(("dates", "supplier_assessed_on"), date(2026, 2, 1))],
    },
    rests_on=("dates.supplier_assessed_on", "people.*.credential"),
)

test_each_record_gets_its_answer = RECORDS.test()
