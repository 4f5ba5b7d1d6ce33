"""What `way_out_without_reverse` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import ask, changed, grounds

ELEVATOR = {"id": "lift", "name": "elevator", "kind": "elevator", "clear_width_mm": 1100, "clear_ahead_mm": 1800}
LIFT = ("spaces.+", ELEVATOR)
FORWARD = (
    "configuration.commands",
    [
        {"does": does, "input": f"head {side}"}
        for does, side in (("forward", "back"), ("left", "left"), ("right", "right"))
    ],
)
STOP = ("configuration.commands", [{"does": "stop", "input": "a soft sip"}])
BACK = ("configuration.commands", [{"does": "back", "input": "head back after a tap"}])
ROOM = ("spaces.0.ahead_from", "way_in")
TURNS = ("configuration.without_reverse", "Turns in front of the sink.")
LEAVES = ("goals.0.levels", ["a", "b", "c", "d", "drives to the table and away again"])

RECORDS = Records(
    "way_out_without_reverse",
    met=[
        ("an elevator and a way to back up", [LIFT, BACK]),
        (
            "an elevator and how it comes out",
            [LIFT, FORWARD, ("configuration.without_reverse", "Doors on both sides.")],
        ),
        ("a table to be left, backing up", [LEAVES, BACK]),
        ("a room with just the floor to turn on", [ROOM, FORWARD, TURNS, ("spaces.0.turning_mm", 1220)]),
        ("a room with floor to turn on", [ROOM, FORWARD, TURNS, ("spaces.0.turning_mm", 1400)]),
    ],
    not_met=[
        ("an elevator to back out of", [LIFT, FORWARD]),
        ("an elevator, and somebody else backs up", [LIFT, FORWARD, ("configuration.has_reverse", True)]),
        (
            "an elevator without its depth",
            [("spaces.+", {key: value for key, value in ELEVATOR.items() if key != "clear_ahead_mm"}), FORWARD],
        ),
        ("an elevator less deep than wide", [("spaces.+", ELEVATOR | {"clear_ahead_mm": 1000}), FORWARD]),
        ("a room, and nothing says how it comes out", [ROOM, FORWARD]),
        ("a room too small to turn in", [ROOM, FORWARD, TURNS, ("spaces.0.turning_mm", 1100)]),
        ("a goal that leaves the table", [LEAVES, FORWARD]),
        ("a room it cannot turn in", [("spaces.1.turning_mm", 1100), FORWARD]),
        ("an activity that backs out", [("activities.0.says", "Backs out of the bathroom."), FORWARD]),
    ],
    cannot_tell=[
        ("whether it backs up is not recorded", [LIFT]),
        ("a command that stops it alone", [LIFT, STOP]),
        ("a room whose floor to turn on is not measured", [ROOM, FORWARD, TURNS]),
    ],
    does_not_apply=[
        ("nothing needs it", [FORWARD]),
        ("an elevator that it turns in", [("spaces.+", ELEVATOR | {"turning_mm": 1500}), FORWARD]),
        ("an elevator just as wide as it turns", [("spaces.+", ELEVATOR | {"clear_width_mm": 1220}), FORWARD]),
        ("places alone", [("goals", []), ("activities", [])]),
        ("goals alone", [("spaces", []), ("activities", [])]),
        ("activities alone", [("spaces", []), ("goals", [])]),
    ],
    ready={"met": [], "not_met": [(("configuration", "without_reverse"), None)]},
)

test_each_record_gets_its_answer = RECORDS.test()


def test_the_place_and_the_goal_are_named():
    answer = ask("way_out_without_reverse", grounds(changed(LIFT, LEAVES, FORWARD)))
    assert (
        "the elevator, 43 1/4 in (1100 mm) to turn in and 48 1/4 in (1220 mm) needed" in answer.reason
        and "the goal “Get to the table”" in answer.reason
    )
    assert ("spaces", 2) in answer.where and ("goals", 0) in answer.where
