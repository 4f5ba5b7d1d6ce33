"""What `conditions_considered` says of each record."""

from __future__ import annotations

from datetime import date

from ready_case import place
from records import Records

_SEEN = {"by": "doctor", "on": date(2026, 3, 3)}


def told(condition, *asked):
    """An entry of [[conditions]] with each of these questions answered in words."""
    return {"id": condition, "answers": [{"ask": name, "says": "As agreed.", **_SEEN} for name in asked]}


ALL = [
    told("cerebral_palsy", "reflexes", "hip_moves"),
    told("pressure_injury", "shift", "earlier_sore"),
    told("spasm_or_dystonia", "stop_in_spasm", "set_off_by", "bad_day", "new_rise_call", "after_medicine"),
    told("thought_or_behavior", "calm_end", "cue_words"),
]

RECORDS = Records(
    "conditions_considered",
    met=[("every question answered", [("conditions", ALL)])],
    not_met=[("a condition denied without why", [("conditions", [{"id": "epilepsy", "present": False}])])],
    cannot_tell=[
        ("the whole case", []),
        ("one question left", [("conditions", [*ALL[:-1], told("thought_or_behavior", "cue_words")])]),
    ],
    does_not_apply=[
        (
            "no condition",
            [
                ("diagnoses.0.code", "M62.81"),
                ("findings.2.id", "transfer_slide"),
                ("configuration.features.3.because", ["transfer_slide"]),
                ("configuration.items.4.because", ["transfer_slide"]),
                ("limits.1.found", False),
            ],
        )
    ],
    ready={"met": [], "cannot_tell": [(("conditions", place("conditions", "id", "cerebral_palsy"), "answers"), [])]},
)

test_each_record_gets_its_answer = RECORDS.test()
