"""What `evaluator_named` says of each record."""

from __future__ import annotations

from ready_case import EVALUATOR
from records import Records
from whole_case import GONE

RECORDS = Records(
    "evaluator_named",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("no license", [("people.0.license", GONE)]),
        ("no name", [("people.0.name", GONE)]),
        ("a calling in words, and no letters", [("people.0.credential", "occupational therapist")]),
        ("no experience", [("people.0.experience", GONE)]),
    ],
    ready={"met": [], "cannot_tell": [(("people", EVALUATOR, "license"), None)]},
    rests_on=("dates.evaluated_on", "people.*.credential", "people.*.experience", "people.*.license", "people.*.name"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
