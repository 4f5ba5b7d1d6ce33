"""What `fits_the_home` says of each record."""

from __future__ import annotations

from ready_case import place
from records import Records
from whole_case import GONE, WHOLE, ask, changed, grounds

from docgen.criteria.settle import unset_keys

LIFT = {"id": "lift", "name": "lift", "kind": "elevator", "at_home": True, "floor": "steel", "clear_width_mm": 900}
NO_LENGTH = ("configuration.chair.length_mm", GONE)
LONG = [("configuration.chair.length_mm", 1100)]
GATE = {"id": "gate", "name": "gate", "kind": "doorway", "at_home": False, "clear_width_mm": 500}

BETWEEN = ("client.between_rooms", GONE)
HALL = {"id": "hall", "name": "hall", "kind": "corridor", "at_home": True, "floor": "wood", "clear_width_mm": 1200}
DOOR = GATE | {"id": "bed", "name": "bedroom door", "at_home": True, "threshold_mm": 0, "floor": "hard"}
ROOM = [*LONG, ("spaces.0.ahead_from", "way_in"), ("spaces.0.clear_ahead_mm", 2400)]
INSIDE = {"inside_depth_mm": 1400, "inside_width_mm": 1200, "ahead_from": "way_in", "clear_ahead_mm": 1400}
FORWARD = ("configuration.commands", [{"does": does, "input": "a tap"} for does in ("forward", "left", "right")])

RECORDS = Records(
    "fits_the_home",
    met=[
        (
            "an elevator just as deep as the chair is long",
            [*LONG, ("spaces.+", {**LIFT, "inside_depth_mm": 1100, "inside_width_mm": 900})],
        ),
        ("the whole case", []),
        ("nothing of the way from the bathroom to the kitchen", [BETWEEN]),
        (
            "a hall between them that was not measured",
            [("client.not_measured", ["the hall of the house"]), ("client.between_rooms", "left_out")],
        ),
        ("a hall that is a place of its own", [BETWEEN, ("spaces.+", HALL)]),
        ("a second door that is wider", [("spaces.+", DOOR | {"clear_width_mm": 900})]),
        ("a second door that is narrower", [("spaces.+", DOOR | {"clear_width_mm": 800})]),
        (
            "a room just large enough to turn in, and a threshold just low enough",
            [
                ("spaces.1.turning_mm", WHOLE["configuration"]["chair"]["turning_mm"]),
                ("spaces.0.threshold_mm", WHOLE["configuration"]["chair"]["climbs_mm"]),
            ],
        ),
        (
            "places to back out of, at home and an elevator elsewhere, and a door elsewhere that is none of them",
            [
                *ROOM,
                ("configuration.commands", [{"does": "back", "input": "two taps"}]),
                ("spaces.+", LIFT | INSIDE),
                ("spaces.+", LIFT | INSIDE | {"id": "other", "name": "elevator at work", "at_home": False}),
                ("spaces.+", GATE | {"ahead_from": "way_in", "clear_ahead_mm": 2400}),
            ],
        ),
        ("no reverse, and a room to turn in behind the door", [*ROOM, FORWARD, ("spaces.0.turning_mm", 1600)]),
        ("no reverse, and no room behind a door", [FORWARD]),
        ("an elevator with room", [*LONG, ("spaces.+", {**LIFT, "inside_depth_mm": 1400, "inside_width_mm": 1200})]),
    ],
    not_met=[
        ("a door narrower than the chair", [("spaces.0.clear_width_mm", 630)]),
        ("a room too small to turn in", [("spaces.1.turning_mm", 1200)]),
        ("a threshold higher than the chair takes", [("spaces.0.threshold_mm", 60)]),
        (
            "an elevator that is not as deep as the chair is long",
            [*LONG, ("spaces.+", {**LIFT, "inside_depth_mm": 1000})],
        ),
        ("an elevator that is not as wide as the chair", [("spaces.+", {**LIFT, "inside_width_mm": 600})]),
    ],
    cannot_tell=[
        ("an elevator at home that was not measured inside", [("spaces.+", LIFT)]),
        (
            "an elevator measured inside, and no length of the chair",
            [NO_LENGTH, ("spaces.+", {**LIFT, "inside_depth_mm": 1400, "inside_width_mm": 900})],
        ),
        ("no home visit", [("dates.home_visit_on", GONE)]),
        ("no door at home", [("spaces.0.at_home", False)]),
        ("a place that may be in the home", [("spaces.0.at_home", GONE)]),
        ("a door not measured", [("spaces.0.clear_width_mm", GONE)]),
        ("a second door not measured", [("spaces.+", {"id": "bed", "name": "bedroom door", "kind": "doorway"})]),
        ("no room to turn in measured", [("spaces.1.turning_mm", GONE)]),
        ("no width of the chair", [("configuration.chair.width_mm", GONE)]),
        ("no turning diameter of the chair", [("configuration.chair.turning_mm", GONE)]),
        ("no threshold of a door", [("spaces.0.threshold_mm", GONE)]),
        ("no floor of a room", [("spaces.1.floor", GONE)]),
        ("a threshold, and not how high a one the chair takes", [("configuration.chair.climbs_mm", GONE)]),
    ],
    settings=[
        ({"least_side_mm": 98.0}, [], "not_met"),
        ({"least_side_mm": 97.5}, [], "met"),
    ],
    ready={
        "met": [],
        "cannot_tell": [
            (("dates", "home_visit_on"), None),
            (("visits", place("visits", "id", "home"), "id"), "another"),
        ],
        "not_met": [(("spaces", 0, "clear_width_mm"), 620)],
    },
    rests_on=(
        "configuration.chair.climbs_mm",
        "configuration.chair.turning_mm",
        "configuration.chair.width_mm",
        "dates.home_visit_on",
        "spaces.*.at_home",
        "spaces.*.clear_width_mm",
        "spaces.*.floor",
        "spaces.*.threshold_mm",
        "spaces.*.turning_mm",
    ),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_room_that_the_chair_must_back_out_of_is_shown_in_part_until_backing_up_was_tried():
    into = [
        ("spaces.0.ahead_from", "way_in"),
        ("configuration.chair.length_mm", 1100),
        ("spaces.0.clear_ahead_mm", 2400),
        ("configuration.commands", [{"does": "back", "input": "two taps"}]),
    ]
    untried = ask("fits_the_home", grounds(changed(*into)))
    assert (untried.status, untried.stands) == ("met", "in_part")
    assert "In these places no floor to turn on is recorded, and backing out was not tried: " in untried.reason
    tried = ask("fits_the_home", grounds(changed(*into, ("trial.tasks.2.backs", True))))
    turns = ask("fits_the_home", grounds(changed(*into, ("spaces.0.turning_mm", 1400))))
    assert tried.stands == turns.stands == ask("fits_the_home", grounds(WHOLE)).stands == "met"


def test_a_hall_too_narrow_to_turn_in_leaves_the_quarter_turn_open_and_the_way_straight_across_it_until_it_was_tried():
    """The chair turns in 1220 mm."""

    def with_hall(hall_mm, **more):
        told = {"hall_mm": hall_mm, **more}
        return ask("fits_the_home", grounds(changed(*((f"spaces.0.{name}", value) for name, value in told.items()))))

    for more, why in (
        ({}, "whether a door is straight across is not recorded"),
        ({"across": "wall"}, "no door is straight across"),
        ({"across": "door"}, "no try of the way straight across to the door there is recorded"),
    ):
        shut_in = with_hall(1200, **more)
        assert shut_in.stands == "in_part"
        assert (
            f"The hall at the bathroom door is 47 1/4 in (1200 mm) wide, too narrow to turn in, and {why}."
            in shut_in.reason
        )
    tried = with_hall(1200, across="door", across_tried="The supplier pushed the empty chair straight across.")
    assert (tried.stands, with_hall(1220).stands) == ("in_part", "met")
    assert "“The supplier pushed the empty chair straight across”." in tried.reason
    assert "the quarter turn between it and the bathroom door was not driven." in tried.reason
    wide = with_hall(1220, across="door", across_tried="The supplier pushed the empty chair straight across.")
    assert wide.stands == "met" and "quarter turn" not in wide.reason


def test_a_narrow_door_away_from_home_does_not_fail_the_home():
    assert ask("fits_the_home", grounds(changed(("spaces.+", GATE)))).status == "met"


def test_each_place_is_asked_for_what_it_lacks_and_for_nothing_that_it_cannot_have():
    """A path has no threshold, and a door is no room to turn in."""
    door = {"id": "door", "name": "door", "kind": "doorway", "at_home": True, "clear_width_mm": 840}
    path = {"id": "path", "name": "path", "kind": "corridor", "at_home": True}
    answer = ask("fits_the_home", grounds(changed(("spaces", [door, path]))))
    assert [key for key in answer.mend.fill if key.startswith("spaces")] == [
        "spaces.0.threshold_mm",
        "spaces.0.floor",
        "spaces.1.floor",
    ]
    assert [(entry.table, entry.keys) for entry in answer.mend.add] == [("spaces", ("turning_mm",))]
    case = grounds(changed(("spaces", [door, path]))).case
    of_spaces = [path for path in unset_keys(case, answer.where, answer.mend.fill) if path[0] == "spaces"]
    assert of_spaces == [("spaces", 0, "threshold_mm"), ("spaces", 0, "floor"), ("spaces", 1, "floor")]
