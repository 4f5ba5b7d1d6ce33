"""What `limits_screened` says of each record."""

from __future__ import annotations

from ready_case import without
from records import Records
from whole_case import GONE, WHOLE

FAINTS = ("conditions.+", {"id": "spinal_cord_injury", "answers": [{"ask": "faints_on_sitting_up", "yes": True}]})
FAINT = {
    "kind": "other",
    "found": True,
    "says": "He faints on some mornings; what the chair does then was not seen.",
    "answer": "His aunt presses the stop.",
    "attacks": ["fainting"],
    "driving_seen": False,
}

RECORDS = Records(
    "limits_screened",
    met=[
        ("the whole case", []),
        ("attacks that a condition tells of, and no screening", [FAINTS]),
        (
            "attacks that are screened, and seen while driving",
            [FAINTS, ("limits.+", FAINT | {"driving_seen": True, "physician_says": "He may drive with someone near."})],
        ),
        (
            "attacks that are screened and seen, and no word of the physician",
            [FAINTS, ("limits.+", FAINT | {"driving_seen": True})],
        ),
        (
            "two deficits, and for one nothing that makes up for it",
            [
                ("limits.2.found", True),
                ("limits.2.answer", "Glasses."),
                ("limits.3.found", True),
            ],
        ),
        ("attacks of another kind than those that are screened", [FAINTS, ("limits.+", FAINT | {"attacks": []})]),
        ("attacks of which the driving was not seen", [FAINTS, ("limits.+", FAINT)]),
    ],
    cannot_tell=[
        ("nothing said of what a screening saw", [("limits.2.says", GONE)]),
        ("no screening of two kinds", [("limits", WHOLE["limits"][:2])]),
        ("no screening of three kinds", [("limits", WHOLE["limits"][:1])]),
        ("no screening of vision", [("limits.2", GONE)]),
        ("whether anything was found is not known", [("limits.2.found", GONE)]),
        ("a screening without what was seen", [("limits.2.says", GONE)]),
    ],
    settings=[
        ({"kinds": ["hearing"]}, [], "cannot_tell"),
    ],
    ready={"met": [], "cannot_tell": [(("limits",), without(kind="vision"))]},
    rests_on=("limits.*.found", "limits.*.says"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
