"""What `trial_told_as_driven` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import ROWS

STICK = next(row for row in ROWS if row["method"] == "stick")
ALONE = [*ROWS, STICK | {"date": date(2026, 3, 2)}]  # a day on which the requested control was not driven
BOTH = ("trial.limits", "The joystick by hand was second on both its days, and the requested control first.")
SETUP, CHAIR = "trial.methods.0.setup", "trial.chair"

RECORDS = Records(
    "trial_told_as_driven",
    met=[
        ("the whole case", []),
        ("both days of a control, on which the requested one was driven too", [BOTH]),
        (
            "both days of a control alone, and nothing of the requested one",
            [("trial.limits", "The joystick by hand was first on both its days.")],
            ALONE,
        ),
        ("a setup that was changed on a day", [(SETUP, "right side, then midline from the second day on")]),
        ("a setup that was changed, not recorded when", [(SETUP, "right side, then midline, when is not recorded")]),
        (
            "a speed that was not scored, above that of the attempts",
            [(CHAIR, "the chair at 0.4 m/s in every attempt; a long route at 0.7 m/s was not scored")],
        ),
    ],
    not_met=[
        ("both days of a control, one of them without the requested one", [BOTH], ALONE),
        (
            "the same in the reason of a device",
            [("alternatives.3.reason", "On both its days he began it tired, the head pads fresh.")],
            ALONE,
        ),
        ("a setup that was changed, and not with which attempts", [(SETUP, "right side, then midline")]),
        (
            "a fastest speed at which nothing was scored",
            [(CHAIR, "the chair at 0.3 m/s in every attempt; a long route at 0.4 m/s was not scored")],
        ),
    ],
    cannot_tell=[("no rows", [], [])],
    ready={"met": []},
    rests_on=("trial.tasks", "trial.methods"),
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()
