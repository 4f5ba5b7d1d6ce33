"""What `conditions_considered` says of each record."""

from __future__ import annotations

from ready_case import place
from records import Records
from whole_case import GONE, NOTHING_FOUND, WHOLE

RECORDS = Records(
    "conditions_considered",
    met=[("the whole case", [])],
    not_met=[("a condition denied without why", [("conditions", [{"id": "epilepsy", "present": False}])])],
    cannot_tell=[
        ("no diagnosis", [("diagnoses", []), *NOTHING_FOUND]),
        ("nothing answered", [("conditions", [])]),
        ("one question left", [("conditions.3.answers.0", GONE)]),
        ("one answered by nobody", [("conditions.0.answers.0.by", GONE)]),
        ("three questions left", [("conditions.2.answers", WHOLE["conditions"][2]["answers"][:2])]),
    ],
    does_not_apply=[
        (
            "no condition",
            [
                ("diagnoses.0.code", "M62.81"),
                *NOTHING_FOUND,
            ],
        )
    ],
    ready={"met": [], "cannot_tell": [(("conditions", place("conditions", "id", "cerebral_palsy"), "answers"), [])]},
    rests_on=(
        "conditions.*.answers.*.by",
        "conditions.*.answers.*.on",
        "conditions.*.answers.*.says",
        "supervision.*",
        "weight_shift.hold_min",
    ),
)

test_each_record_gets_its_answer = RECORDS.test()
