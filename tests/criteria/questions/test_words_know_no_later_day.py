"""What `words_know_no_later_day` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "words_know_no_later_day",
    met=[
        ("the whole case", []),
        ("a day before the request", [("spaces.0.says", "Measured on April 1.")]),
        ("a later day that is still to come", [("trial.limits", "Ten stops more will be made on July 20.")]),
        ("a day of another year before", [("spaces.0.says", "Measured on July 20, 2025.")]),
        ("no such day", [("spaces.0.says", "Measured on July 40.")]),
    ],
    not_met=[
        ("a measurement of a later day", [("spaces.0.says", "Its stop was measured on July 20.")]),
        ("a finding of a later year", [("findings.0.measure", "10 of 10; March 3, 2027")]),
        (
            "later than the letter, and no day of the request",
            [("request.requested_on", GONE), ("letter.safety", "On July 20, 2026 he stopped ten times.")],
        ),
    ],
    cannot_tell=[("no day of the request", [("request.requested_on", GONE), ("dates.written_on", GONE)])],
    ready={"met": []},
)

test_each_record_gets_its_answer = RECORDS.test()
