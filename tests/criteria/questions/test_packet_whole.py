"""What `packet_whole` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "packet_whole",
    met=[
        ("all parts", []),
    ],
    not_met=[
        ("an evaluator paid by the supplier", [("people.0.employed_by_supplier", True)]),
        ("an unsigned note", [("encounter.signed", False)]),
        (
            "an unsigned note and an evaluator paid by the supplier",
            [("encounter.signed", False), ("people.0.employed_by_supplier", True)],
        ),
    ],
    cannot_tell=[
        ("no license", [("people.0.license", GONE)]),
        ("no note", [("encounter", {})]),
    ],
    settings=[
        ({}, [("configuration.chair.base_code", "K0890")], "does_not_apply"),
    ],
    rests_on=(
        "configuration",
        "dates.evaluated_on",
        "dates.supplier_assessed_on",
        "encounter.mobility_was_reason",
        "encounter.mode",
        "encounter.narrative",
        "encounter.separates_home_and_outside",
        "encounter.signed",
        "order.has",
        "people.*.credential",
        "people.*.employed_by_supplier",
        "people.*.experience",
        "people.*.license",
        "people.*.name",
        "people.*.statement_on",
    ),
)

test_each_record_gets_its_answer = RECORDS.test()
