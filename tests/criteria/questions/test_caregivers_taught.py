"""What `caregivers_taught` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "caregivers_taught",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("nobody taught", [("taught", [])]),
        ("no day", [("taught.0.on", GONE)]),
        ("a caregiver left out", [("people.+", {"id": "uncle", "role": "caregiver", "relation": "uncle"})]),
    ],
    ready={"met": [], "cannot_tell": [(("taught",), [])]},
    rests_on=(
        "people.*.id",
        "taught.*.on",
    ),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
