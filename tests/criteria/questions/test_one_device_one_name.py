"""What `one_device_one_name` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ROWS, ask, attempts, changed, grounds

NOTHING_TRIED = [
    ("trial.methods", []),
    ("configuration.method", GONE),
    ("alternatives.3.method", GONE),
]
SETUP = ("trial.methods.0.setup", "midline mount")

RECORDS = Records(
    "one_device_one_name",
    met=[
        ("the whole case", []),
        ("one set-up, told twice alike", [SETUP, ("alternatives.3.setup", "Midline mount.")]),
        ("a set-up among the alternatives alone", [("alternatives.3.setup", "midline mount")]),
        ("one control in two settings", [("trial.methods.0.name", "head pads, set narrow")]),
    ],
    not_met=[
        ("two controls of one name", [("trial.methods.0.name", "The head pads")]),
        ("two devices that are one control", [("alternatives.4.method", "stick")]),
        (
            "two controls of one name with different releases",
            [("trial.methods.0.name", "The head pads")],
            [ROWS[0] | {"release_s": 0.9}, *ROWS[1:-1], ROWS[-1] | {"release_s": 0.8}],
        ),
        (
            "two controls of one name, one without releases",
            [("trial.methods.0.name", "The head pads")],
            [row | ({"release_s": None} if row["method"] == "stick" else {}) for row in ROWS],
        ),
    ],
    cannot_tell=[
        ("no control tried", NOTHING_TRIED),
        ("one control, and two set-ups", [SETUP, ("alternatives.3.setup", "right side, ball handle")]),
    ],
    rests_on=("trial.methods",),
    rows_suffice=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_two_release_times_of_one_name_are_told():
    rows = attempts("stick", "1111", release_s=0.9) + attempts("pads", "1111", release_s=0.3)
    told = ask("one_device_one_name", grounds(changed(("trial.methods.0.name", "Head pads")), rows))
    assert "0.9 s and 0.3 s" in told.reason
    assert "release" not in ask("one_device_one_name", grounds(changed(), ROWS)).reason
