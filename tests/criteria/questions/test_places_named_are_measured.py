"""What `places_named_are_measured` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ask, changed, grounds

INSIDE = {"id": "lift", "name": "elevator", "kind": "elevator", "inside_width_mm": 1120, "inside_depth_mm": 1380}
ELEVATOR = {"id": "lift", "name": "elevator", "kind": "elevator", "clear_width_mm": 1100, "clear_ahead_mm": 1700}

RECORDS = Records(
    "places_named_are_measured",
    met=[
        ("no goal", [("goals", [])]),
        ("no activity, and a goal", [("activities", []), ("goals.0.says", "Wash in the bathroom.")]),
        (
            "an elevator just as deep as the chair is long",
            [("spaces.+", ELEVATOR), ("configuration.chair.length_mm", 1700), ("goals.0.says", "Take the elevator.")],
        ),
        ("the whole case", []),
        (
            "an elevator measured inside",
            [("spaces.+", INSIDE), ("goals.0.says", "Take the elevator.")],
        ),
        ("an elevator as deep as the chair needs", [("spaces.+", ELEVATOR), ("goals.0.says", "Take the elevator.")]),
    ],
    not_met=[
        ("an elevator shorter inside than the chair", [("spaces.+", INSIDE | {"inside_depth_mm": 990})]),
        ("an elevator shorter than the chair", [("spaces.+", ELEVATOR | {"clear_ahead_mm": 990})]),
    ],
    cannot_tell=[
        ("no activity and no goal", [("activities", []), ("goals", [])]),
        ("an elevator named by a goal and not measured", [("goals.0.says", "Take the elevator down alone.")]),
        ("an elevator without its depth", [("spaces.+", {k: v for k, v in ELEVATOR.items() if k != "clear_ahead_mm"})]),
        ("a toilet without a bathroom measured", [("spaces.0.name", "hall door")]),
        ("a bathroom door without its width", [("spaces.0.clear_width_mm", GONE)]),
    ],
    does_not_apply=[
        ("no room is named", [("activities.0.name", "be changed")]),
    ],
    rests_on=("spaces.*.clear_width_mm",),
    ready={
        "met": [],
        "cannot_tell": [(("spaces", 0, "clear_width_mm"), None), (("spaces", 0, "turning_mm"), None)],
    },
)

test_each_record_gets_its_answer = RECORDS.test()


def test_what_names_the_place_is_pointed_to():
    answer = ask(
        "places_named_are_measured", grounds(changed(("goals.0.levels", ["a", "b", "to the elevator", "d", "e"])))
    )
    assert "elevator" in answer.reason and ("goals", 0) in answer.where
