"""What `evaluator_independent` says of each record."""

from __future__ import annotations

from datetime import date

from ready_case import EVALUATOR
from records import Records
from whole_case import GONE

RECORDS = Records(
    "evaluator_independent",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("an evaluator paid by the supplier", [("people.0.employed_by_supplier", True)]),
        (
            "a second evaluator paid by the supplier",
            [("people.+", {"id": "second", "role": "evaluator", "employed_by_supplier": True})],
        ),
    ],
    cannot_tell=[
        ("no evaluator", [("people.0.role", "other")]),
        ("no word on pay", [("people.0.employed_by_supplier", GONE)]),
        ("no statement", [("people.0.statement_on", GONE)]),
        ("a second evaluator without a statement", [("people.+", {"id": "second", "role": "evaluator"})]),
        (
            "a second evaluator with a statement and no word on pay",
            [("people.+", {"id": "second", "role": "evaluator", "statement_on": date(2026, 4, 2)})],
        ),
        (
            "a second evaluator without a tie and without a statement",
            [("people.+", {"id": "second", "role": "evaluator", "employed_by_supplier": False})],
        ),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("people", EVALUATOR, "statement_on"), None)],
        "not_met": [(("people", EVALUATOR, "employed_by_supplier"), True)],
    },
    rests_on=("people.*.employed_by_supplier", "people.*.statement_on"),
)

test_each_record_gets_its_answer = RECORDS.test()
