"""What `simpler_controls_compared` says of each record."""

from __future__ import annotations

from changes import GOOD, STICK
from records import Records
from whole_case import GONE, attempts

RECORDS = Records(
    "simpler_controls_compared",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a simpler control that cannot be told apart", [], attempts("stick", "1" * 15 + "0") + GOOD),
        ("a simpler control that is better", [], attempts("stick", "1" * 16) + attempts("pads", "01" * 12)),
    ],
    cannot_tell=[
        ("no rows of the simpler control", [], GOOD),
        ("no rows of the control asked for", [], STICK),
        ("no control asked for", [("configuration.method", GONE)]),
    ],
    does_not_apply=[
        ("no simpler control in the trial", [("trial.methods.0", GONE), ("alternatives.3", GONE)], GOOD),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("configuration", "method"), None)],
        "not_met": [(("configuration", "method"), "force_pads")],
        "does_not_apply": [(("configuration", "method"), "hand_stick")],
    },
    rests_on=("configuration.method",),
    rows_suffice=True,
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()
