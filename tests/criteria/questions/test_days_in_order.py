"""What `days_in_order` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE, ROWS

RECORDS = Records(
    "days_in_order",
    met=[
        ("the whole case", []),
        ("a first row earlier than all that was found", [], [ROWS[0] | {"date": date(2026, 2, 2)}, *ROWS[1:]]),
        (
            "a finding and the documents of the day of the report, and a birth on the first day",
            [
                ("findings.0.on", date(2026, 4, 2)),
                ("dates.written_on", date(2026, 4, 2)),
                ("client.born_on", date(2026, 3, 3)),
            ],
        ),
    ],
    not_met=[
        (
            "born after the trial, and a finding later than the report",
            [("client.born_on", date(2026, 9, 2)), ("findings.0.on", date(2026, 4, 3))],
        ),
        ("born after the trial", [("client.born_on", date(2026, 9, 2))]),
        ("a report older than the rows it rests on", [("dates.evaluated_on", date(2025, 4, 2))]),
        ("a finding later than the report", [("findings.0.on", date(2026, 4, 3))]),
        (
            "documents older than the trial, whatever the day of the report",
            [("dates.evaluated_on", GONE), ("dates.written_on", date(2026, 3, 1))],
        ),
        (
            "a weight shift told as prescribed before it was",
            [
                ("findings.0.measure", "weight shift every 60 min prescribed"),
                ("findings.0.on", date(2026, 3, 9)),
                ("weight_shift.on", date(2026, 3, 10)),
            ],
        ),
        (
            "a weight shift told by its interval before it was set",
            [
                ("findings.0.says", "A weight shift every 60 minutes needs tilt."),
                ("findings.0.on", date(2026, 3, 9)),
                ("weight_shift.every_min", 60),
                ("weight_shift.on", date(2026, 3, 10)),
            ],
        ),
        ("documents older than the report", [("dates.written_on", date(2026, 4, 1))]),
    ],
    cannot_tell=[
        ("no day of the report", [("dates.evaluated_on", GONE)]),
        ("no day of the documents", [("dates.written_on", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("dates", "written_on"), None)],
        "not_met": [(("dates", "evaluated_on"), date(2025, 4, 2))],
    },
    rests_on=("dates.evaluated_on", "dates.written_on"),
)

test_each_record_gets_its_answer = RECORDS.test()
