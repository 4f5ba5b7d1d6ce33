"""What `findings_answered` says of each record."""

from __future__ import annotations

from records import Records

RECORDS = Records(
    "findings_answered",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a finding that nothing answers", [("findings.+", {"id": "aac_user", "says": "Speaks with a device."})]),
    ],
    cannot_tell=[
        ("no finding", [("findings", []), ("configuration.features", []), ("configuration.items", [])]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("findings",), [])],
        "not_met": [(("findings",), lambda f: [*f, {"id": "vision_low", "says": "Sees little."}])],
    },
    rests_on=("findings",),
)

test_each_record_gets_its_answer = RECORDS.test()
