"""What `doubts_answered` says of each record."""

from __future__ import annotations

from records import Records

RECORDS = Records(
    "doubts_answered",
    met=[
        ("no doubt", []),
        (
            "a doubt with its answer",
            [
                ("findings.+", {"id": "reflex_head_turn", "says": "Turning the head moves the arms."}),
                ("configuration.features.0.answer", "Arms strapped."),
            ],
        ),
        (
            "a need of safety, which another question asks about",
            [("configuration.features.+", {"id": "latched_drive", "because": []})],
        ),
    ],
    cannot_tell=[
        (
            "a doubt without an answer",
            [("findings.+", {"id": "reflex_head_turn", "says": "Turning the head moves the arms."})],
        ),
        ("nothing requested", [("configuration.features", []), ("configuration.items", [])]),
    ],
    rests_on=("configuration.features", "findings"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
