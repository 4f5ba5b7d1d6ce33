"""What `roles_kept_apart` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

PAYER = {"id": "reviewer", "role": "payer"}

RECORDS = Records(
    "roles_kept_apart",
    met=[
        ("the whole case", []),
        ("a namesake in no such role", [("people.2.name", "Jo Example")]),
    ],
    not_met=[
        ("evaluator and supplier of one name", [("people.1.name", "Dr. JO Example, OTR/L")]),
        ("practitioner and supplier of one name", [("people.3.name", "Kim Example")]),
        ("the client as evaluator", [("people.0.name", "Robin Example")]),
        ("a payer's reviewer who evaluated", [("people.+", PAYER | {"name": "Jo Example"})]),
        ("an order signed by the supplier", [("order.signed_by", "atp")]),
        ("the evaluator who speaks for the payer", [("denial", {"by": "ot"})]),
    ],
    cannot_tell=[
        ("no name of the supplier", [("people.1.name", GONE)]),
        ("no evaluator", [("people.0", GONE)]),
    ],
    rests_on=("people.*.name",),
)

test_each_record_gets_its_answer = RECORDS.test()
