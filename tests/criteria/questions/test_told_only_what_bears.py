"""What `told_only_what_bears` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "told_only_what_bears",
    met=[
        ("one diagnosis, of the nerves", []),
        ("a pressure injury", [("diagnoses.+", {"code": "L89.153", "name": "pressure ulcer"})]),
        (
            "a disease of the skin that the record names as a ground",
            [
                ("diagnoses.+", {"code": "L40.0", "name": "plaque psoriasis"}),
                ("diagnoses.1.name", "skin that tears"),
                ("findings.0.says", "Skin that tears under any pad."),
            ],
        ),
        (
            "the same, named in what the body can do",
            [
                ("diagnoses.+", {"code": "L40.0", "name": "skin that tears"}),
                ("client.function", "Moves the head; skin that tears under any pad."),
            ],
        ),
        ("a shoulder that droops", [("client.function", "Depression of the left shoulder.")]),
        ("what the body can do, and no diagnosis", [("diagnoses", [])]),
        ("a diagnosis, and not what the body can do", [("client.function", GONE)]),
    ],
    not_met=[
        ("a disease of the skin", [("diagnoses.+", {"code": "L20.9", "name": "atopic dermatitis"})]),
        ("use of a drug", [("diagnoses.+", {"code": "F11.21", "name": "opioid dependence, in remission"})]),
        ("a sentence on it", [("client.day", "Up at seven; an old note on substance use.")]),
        ("the same in a finding", [("findings.0.says", "Eczema behind both ears.")]),
    ],
    cannot_tell=[
        ("neither diagnosis nor function", [("diagnoses", []), ("client.function", GONE)]),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
