"""What `side_questions_answered` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records

LIFT = {"id": "lift", "what": "how wide the lift of the bus is", "of": "school", "holds": False}
SHUNT = {"id": "shunt", "what": "whether a pad may sit beside the shunt", "of": "practitioner"}
ANSWERED = {"answer": "36 in.", "answered_on": date(2026, 9, 8)}

RECORDS = Records(
    "side_questions_answered",
    met=[("answered, after the letter too", [("awaited", [LIFT | ANSWERED, SHUNT])])],
    does_not_apply=[
        ("nothing was asked", []),
        ("nothing but what the request waits for", [("awaited", [SHUNT])]),
    ],
    cannot_tell=[
        ("not answered", [("awaited", [SHUNT, LIFT])]),
        ("answered without a day", [("awaited", [LIFT | ANSWERED | {"answered_on": None}])]),
    ],
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
