"""What `gaps_have_a_range` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

PART = "configuration.mounting.0."
TURNED = {"angle_deg": -12.0, "angle_from_deg": -15.0, "angle_to_deg": -8.0}
NO_GAP = [{"of": "allowed", "because": "It is touched at rest."}]

RECORDS = Records(
    "gaps_have_a_range",
    met=[
        ("the whole case", []),
        (
            "a part without a range, and why",
            [(PART + "gap_from_mm", GONE), (PART + "gap_to_mm", GONE), (PART + "not_applicable", NO_GAP)],
        ),
        ("an angle with its range", [(PART + name, value) for name, value in TURNED.items()]),
        (
            "an angle without a range, and why",
            [
                (PART + "angle_deg", 0.0),
                (PART + "not_applicable", [{"of": "allowed_angle", "because": "Its bracket is fixed."}]),
            ],
        ),
    ],
    cannot_tell=[
        *(
            (f"of an angle not said: {name}", [(PART + key, TURNED[key]) for key in TURNED if key != name])
            for name in ("angle_from_deg", "angle_to_deg")
        ),
        ("no smallest", [(PART + "gap_from_mm", GONE)]),
        ("no largest", [(PART + "gap_to_mm", GONE)]),
        ("nothing said of what is worn", [("configuration.worn", GONE)]),
        ("two things are worn", [("configuration.worn", "a thin slipper, or a thick boot in winter")]),
        ("nobody checked it with that on", [("configuration.worn_checked_by", GONE)]),
    ],
    does_not_apply=[("no part", [("configuration.mounting", [])])],
    rests_on=(
        "configuration.mounting.*.gap_from_mm",
        "configuration.mounting.*.gap_to_mm",
        "configuration.worn",
        "configuration.worn_checked_by",
    ),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
