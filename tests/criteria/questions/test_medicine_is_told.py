"""What `medicine_is_told` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import NOTHING_FOUND

MEDICINE = ("emergency.medicine", "Baclofen by mouth.")
NO_PAGE = (("diagnoses.0.code", "M62.81"), *NOTHING_FOUND, ("emergency", {"medicine": "Baclofen by mouth."}))

RECORDS = Records(
    "medicine_is_told",
    met=[
        ("an emergency page", [MEDICINE, ("diagnoses.0.code", "S14.101A")]),
        (
            "no page, and the guide may tell it",
            [*NO_PAGE, ("emergency.consent", {"names_medicine": True, "given_by": "the client"})],
        ),
    ],
    cannot_tell=[("no page that tells it", [*NO_PAGE])],
    does_not_apply=[("no medicine", [("emergency", {})])],
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
