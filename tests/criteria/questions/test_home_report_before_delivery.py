"""What `home_report_before_delivery` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import DELIVERED, GONE

RECORDS = Records(
    "home_report_before_delivery",
    met=[
        ("a visit before delivery", DELIVERED),
        ("a visit at delivery", [*DELIVERED, ("dates.home_visit_on", date(2026, 8, 3))]),
    ],
    not_met=[
        (
            "a report after delivery, whenever the visit was",
            [*DELIVERED, ("dates.home_visit_on", GONE), ("dates.home_report_on", date(2026, 8, 4))],
        ),
        ("a visit after delivery", [*DELIVERED, ("dates.home_visit_on", date(2026, 8, 4))]),
    ],
    cannot_tell=[
        ("measures away from home alone", [*DELIVERED, ("spaces.0.at_home", False), ("spaces.1.at_home", False)]),
        ("no visit", [("dates.home_visit_on", GONE)]),
        ("no measure", [("spaces", [])]),
    ],
    does_not_apply=[
        ("no delivery", []),
    ],
    rests_on=("dates.home_visit_on", "spaces"),
)

test_each_record_gets_its_answer = RECORDS.test()
