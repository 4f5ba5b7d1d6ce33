"""What `medicaid_encounter_in_time` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import DELIVERED, GONE, WHOLE

STARTED = ("delivery", {"service_on": date(2026, 8, 20)})

RECORDS = Records(
    "medicaid_encounter_in_time",
    met=[
        ("services on the last day", [("delivery", {"service_on": date(2026, 8, 20)})]),
        ("delivery counts as the start", DELIVERED),
    ],
    not_met=[
        ("services a day too late", [("delivery", {"service_on": date(2026, 8, 21)})]),
        ("services before the encounter", [("delivery", {"service_on": date(2026, 2, 19)})]),
    ],
    cannot_tell=[
        ("no encounter", [STARTED, ("dates.encounter_on", GONE)]),
    ],
    does_not_apply=[
        ("no services yet", []),
    ],
    settings=[
        ({"months": 5}, [("dates.delivered_on", WHOLE["dates"]["encounter_on"].replace(month=8))], "not_met"),
    ],
    rests_on=("dates.encounter_on",),
)

test_each_record_gets_its_answer = RECORDS.test()
