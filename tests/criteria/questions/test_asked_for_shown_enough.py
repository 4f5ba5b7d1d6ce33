"""What `asked_for_shown_enough` says of each record."""

from __future__ import annotations

from datetime import date

from changes import STICK
from records import Records
from whole_case import CAREGIVER_DRIVES, GONE, attempts

TWO = attempts("pads", "11", days=1)
ONE_STOP = [row for place, row in enumerate(attempts("pads", "1" * 24)) if row["task"] != "stop" or place < 2]
BESIDE = {"asked": 4, "made": 4, "on": date(2026, 3, 10)}
GROUND = [
    ("trial.few_why", "The ward allowed two visits."),
    ("trial.few_guard", "aunt"),
    ("trial.few_until", "ten stops of ten are done at home"),
]

RECORDS = Records(
    "asked_for_shown_enough",
    met=[
        ("the whole case", []),
        ("two attempts, with a ground, a guard and an end", GROUND, TWO),
        (
            "two attempts, guarded by someone with a relation of more words",
            [*GROUND, ("people.2.relation", "her aunt")],
            TWO,
        ),
        (
            "many attempts and one stop, with stops counted beside the rows",
            [(f"trial.methods.1.stops_{key}", value) for key, value in BESIDE.items()],
            ONE_STOP,
        ),
        ("two attempts, guarded by someone with a name alone", [*GROUND, ("trial.few_guard", "doctor")], TWO),
    ],
    not_met=[
        ("two attempts", [], TWO),
        ("many attempts and one stop", [], ONE_STOP),
        ("many attempts on one day", [], attempts("pads", "1" * 24, days=1)),
        ("a ground without a guard", [(f"trial.{key}", "Two visits.") for key in ("few_why", "few_until")], TWO),
    ],
    cannot_tell=[
        ("no rows of the requested control", [], STICK),
        ("no requested control", [("configuration.method", GONE)]),
    ],
    does_not_apply=[
        ("a caregiver who drives", CAREGIVER_DRIVES),
    ],
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks"),
    needs_rows=True,
    rows_suffice=True,
)

test_each_record_gets_its_answer = RECORDS.test()
