"""What `encounter_documented` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

from docgen.case.paper import Encounter
from docgen.criteria.criterion import criteria

RECORDS = Records(
    "encounter_documented",
    met=[
        ("the whole note", []),
    ],
    not_met=[
        ("a form", [("encounter.narrative", False)]),
        ("no signature", [("encounter.signed", False)]),
        ("home and outside mixed", [("encounter.separates_home_and_outside", False)]),
    ],
    cannot_tell=[
        ("no word on how it was held", [("encounter.mode", GONE)]),
        ("nothing of it", [("encounter", {})]),
    ],
    settings=[
        ({"keys": ["mode", "sent_on", "answers"]}, [], "met"),
        ({"keys": ["sent_on"]}, [("encounter.sent_on", GONE)], "cannot_tell"),
        ({"keys": ["answers"]}, [("encounter.answers", ["scooter"])], "cannot_tell"),
        ({"keys": ["signed"]}, [("encounter.narrative", False)], "met"),
    ],
    rests_on=(
        "encounter.mobility_was_reason",
        "encounter.mode",
        "encounter.narrative",
        "encounter.separates_home_and_outside",
        "encounter.signed",
    ),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_payer_may_ask_for_every_key_but_who_held_it():
    assert {*criteria()["encounter_documented"].choices["keys"]} == {*Encounter.model_fields} - {"by"}
