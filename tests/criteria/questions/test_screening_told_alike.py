"""What `screening_told_alike` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, WHOLE

SEIZURES = next(at for at, limit in enumerate(WHOLE["limits"]) if limit["kind"] == "seizures")
VISION = next(at for at, limit in enumerate(WHOLE["limits"]) if limit["kind"] == "vision")
SAYS, FOUND = f"limits.{SEIZURES}.says", f"limits.{SEIZURES}.found"
TWO = (SAYS, "Two seizures in 2023, none since, on one medicine.")
OVER = {"id": "epilepsy", "present": False, "says": "Outgrown.", "by": "doctor"}
FINDINGS = WHOLE["findings"]

RECORDS = Records(
    "screening_told_alike",
    met=[
        ("the whole case", []),
        ("none ever", [(SAYS, "No seizure has been recorded.")]),
        ("none since", [(SAYS, "No seizure since she was two.")]),
        ("denied of absences too", [(SAYS, "Her mother denies seizures and absences.")]),
        ("some, recorded as found", [TWO, (FOUND, True)]),
        ("some, and over by word of the doctor", [TWO, ("conditions", [OVER])]),
        (
            "found, and a finding of sight",
            [
                (f"limits.{VISION}.found", True),
                ("findings", [*FINDINGS, {"id": "field_cut", "says": "Misses what is left."}]),
            ],
        ),
    ],
    not_met=[
        ("two, none since", [TWO]),
        ("two, in a sentence of its own", [(SAYS, "Two tonic seizures in 2019. Medicine stopped in 2021.")]),
        ("a finding of seizures", [("findings", [*FINDINGS, {"id": "seizure_active", "says": "They come weekly."}])]),
        ("epilepsy among the diagnoses", [("diagnoses.0.code", "G40.909")]),
        (
            "none found in vision, and a field cut",
            [("findings", [*FINDINGS, {"id": "field_cut", "says": "Misses what is left."}])],
        ),
    ],
    cannot_tell=[("no screening", [("limits", GONE)])],
    ready={"met": []},
    rests_on=("limits",),
)

test_each_record_gets_its_answer = RECORDS.test()
