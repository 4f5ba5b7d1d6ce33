"""What `turning_circle_holds_chair` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ask, changed, grounds

CHAIR = "configuration.chair"

RECORDS = Records(
    "turning_circle_holds_chair",
    met=[
        ("the whole case", []),
        (
            "a circle of just the diagonal",
            [(f"{CHAIR}.length_mm", 600), (f"{CHAIR}.width_mm", 800), (f"{CHAIR}.turning_mm", 1000)],
        ),
    ],
    not_met=[
        ("a circle smaller than the diagonal", [(f"{CHAIR}.length_mm", 1080)]),
        ("by a millimetre", [(f"{CHAIR}.length_mm", 600), (f"{CHAIR}.width_mm", 800), (f"{CHAIR}.turning_mm", 999)]),
    ],
    cannot_tell=[
        ("no length", [(f"{CHAIR}.length_mm", GONE)]),
        ("no width", [(f"{CHAIR}.width_mm", GONE)]),
        ("no circle", [(f"{CHAIR}.turning_mm", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("configuration", "chair", "length_mm"), None)],
        "not_met": [(("configuration", "chair", "turning_mm"), 1220)],
    },
    rests_on=("configuration.chair.length_mm", "configuration.chair.turning_mm", "configuration.chair.width_mm"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_both_sides_are_told_with_the_diagonal():
    """640 and 1080 mm: the root of 1,576,000 is 1255.4 (by hand), up."""
    answer = ask("turning_circle_holds_chair", grounds(changed((f"{CHAIR}.length_mm", 1080))))
    assert "48 1/4 in (1220 mm)" in answer.reason and "(1256 mm) from corner to corner" in answer.reason
    assert {path[-1] for path in answer.where} == {"turning_mm", "width_mm", "length_mm"}
