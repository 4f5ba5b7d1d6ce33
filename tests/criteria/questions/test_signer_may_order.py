"""What `signer_may_order` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "signer_may_order",
    met=[
        ("a nurse practitioner", []),
    ],
    not_met=[
        ("a therapist", [("order.signed_by", "ot")]),
        ("another credential", [("people.3.credential", "RN")]),
    ],
    cannot_tell=[
        ("no signer", [("order.signed_by", GONE)]),
        ("no credential", [("people.3.credential", GONE)]),
        ("every title, and no letters", [("people.3.credential", "Dr., Prof., Doctor, Professor")]),
        ("a calling in a word, and no letters", [("people.3.credential", "physician")]),
        ("a title alone", [("people.3.credential", "Dr.")]),
    ],
    settings=[
        ({"credentials": ["MD"]}, [], "not_met"),
        ({"plan_of_care": True}, [], "met"),
        ({"plan_of_care": True}, [("order.in_plan_of_care", False)], "not_met"),
        ({"plan_of_care": True}, [("order.in_plan_of_care", GONE)], "cannot_tell"),
    ],
    rests_on=(
        "order.signed_by",
        "people.*.credential",
    ),
)

test_each_record_gets_its_answer = RECORDS.test()
