"""What `stops_within_space` says of each record."""

from __future__ import annotations

from datetime import date

from changes import NO_PROFILE, STICK
from gathered import of_each
from msgspec.structs import replace
from records import Records
from whole_case import GONE, WHOLE, ask, attempts, changed, grounds

from docgen.criteria.questions.stops_within_space import _compared, _room

RAMP = {"id": "yard", "name": "yard", "kind": "ramp", "slope_percent": 8, "clear_ahead_mm": 100, "profile": "indoor"}
FAST = {"id": "street", "name": "street", "speed_m_s": 1.5, "turn_deg_s": 15, "used": "street", "why": "far"}
MEASURED = {"slope_stop_m": 0.6, "slope_stop_on": date(2026, 3, 24)}

LENGTH = "configuration.chair.length_mm"

RECORDS = Records(
    "stops_within_space",
    met=[
        (
            "a profile no faster than the fastest of two that are driven somewhere",
            [
                ("configuration.profiles.+", {"id": "slow", "name": "slow", "speed_m_s": 0.2}),
                ("configuration.profiles.+", {"id": "other", "name": "other", "speed_m_s": 0.3}),
                ("spaces.0.profile", "slow"),
            ],
        ),
        ("the whole case", []),
        ("room for the stop and an inch", [("spaces.1.clear_ahead_mm", 430)]),
        ("a slope on which it stopped in time", [("spaces.+", RAMP | MEASURED | {"clear_ahead_mm": 1000})]),
        ("just the room for the stop", [("spaces.1.clear_ahead_mm", 400)]),
        (
            "a profile no faster that is driven in no place",
            [("configuration.profiles.+", {"id": "other", "name": "other", "speed_m_s": 0.4})],
        ),
    ],
    not_met=[
        ("less room than the chair needs", [("spaces.1.clear_ahead_mm", 390)]),
        ("a slope on which it did not stop in time", [("spaces.+", RAMP | MEASURED | {"clear_ahead_mm": 500})]),
        ("far less room than the chair needs", [("spaces.1.clear_ahead_mm", 300)]),
        ("a slow release", [], STICK + attempts("pads", "1" * 24, release_s=3.0)),
        ("less room on a slope than the chair needs", [("spaces.+", RAMP)]),
    ],
    cannot_tell=[
        ("no profile", NO_PROFILE),
        ("no space ahead", [("spaces.0.clear_ahead_mm", GONE), ("spaces.1.clear_ahead_mm", GONE)]),
        ("no release time", [], STICK + attempts("pads", "1" * 24, release_s=None)),
        ("no deceleration", [("configuration.chair.deceleration_m_s2", GONE)]),
        ("no speed", [("configuration.profiles.0.speed_m_s", GONE)]),
        ("a space without its profile", [("spaces.1.profile", GONE)]),
        ("a faster profile without a space", [("configuration.profiles.+", FAST)]),
        ("no length of the chair to take off the room", [("spaces.1.ahead_from", "way_in"), (LENGTH, GONE)]),
        ("nothing but a slope", [("spaces", [RAMP | {"clear_ahead_mm": 9000}])]),
        (
            "a profile without its speed that is driven in no place",
            [("configuration.profiles.+", {"id": "outdoor", "name": "outdoor"})],
        ),
        (
            "a faster profile that is driven in no place",
            [("configuration.profiles.+", {"id": "outdoor", "name": "outdoor", "speed_m_s": 0.41})],
        ),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("configuration", "chair", "deceleration_m_s2"), None)],
        "not_met": [(("configuration", "profiles", 1, "speed_m_s"), 1.2)],
    },
    rests_on=(
        "configuration.chair.deceleration_m_s2",
        "configuration.chair.electronics_delay_s",
        "configuration.method",
        "configuration.profiles.*.speed_m_s",
        "spaces.*.profile",
        "trial.methods.*",
        "trial.tasks",
    ),
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


@of_each(
    ("distance_m", "room_m", "end"),
    [
        (0.0, 0.15, None),
        (0.0, 0.1499, "5 1/2 in (140 mm) to spare"),
        (0.4, 0.415, "3/8 in (10 mm) to spare"),
        (0.0, 0.05998, "1 7/8 in (50 mm) to spare"),  # of the two as printed
        (0.0, 0.001, "nothing to spare"),
        (0.4000000000000001, 0.43, "1 1/8 in (30 mm) to spare"),  # rounding takes no millimeter away
        (0.4, 0.4009, "nothing to spare"),
        (0.4, 0.4, "nothing to spare"),
        (0.4001, 0.4, "1/2 in (10 mm) too little"),  # and no tenth of one is room
        (0.4000000000000001, 0.39, "1/2 in (10 mm) too little"),
        (0.15, 0.0, None),
        (0.77, 0.9, "5 in (130 mm) to spare"),  # of the distance, a sixth
    ],
)
def test_a_room_that_reads_like_the_distance_is_told_with_what_is_to_spare_or_too_little(distance_m, room_m, end):
    there = grounds(WHOLE).evidence.stopping.places[0]
    told = _room(replace(there, distance_m=distance_m, room_m=room_m)).partition(", ")[2]
    assert told == (end or "")


@of_each(
    ("metres", "told"),
    [
        (1.99, "78 1/2 in (1990 mm)"),  # 78.35 in
        (2.0, "6 ft 7 in (2.00 m)"),  # 78.74 in
        (2.1, "6 ft 11 in (2.10 m)"),  # 82.68 in
    ],
)
def test_a_length_below_two_meters_is_told_in_fractions_of_an_inch(metres, told):
    assert _compared(metres, "up") == told


def test_a_slope_with_room_enough_is_named_as_not_measured_and_one_that_does_not_hold_the_chair_as_not_worked_out():
    for slope, said in (
        (8, "it is worked out from the level and not measured"),
        (60, "the distance is not worked out"),
    ):
        yard = RAMP | {"clear_ahead_mm": 9000, "slope_percent": slope}
        answer = ask("stops_within_space", grounds(changed(("spaces.+", yard))))
        assert answer.status == "met" and f"On the slope of the yard {said}." in answer.reason


def test_a_place_of_a_profile_whose_room_ahead_was_not_measured_is_named_and_the_answer_is_met_in_part():
    bedroom = {"id": "bedroom", "name": "bedroom", "kind": "turning", "turning_mm": 2000, "profile": "indoor"}

    def asked(**more):
        return ask("stops_within_space", grounds(changed(("spaces.+", bedroom | more))))

    assert asked().stands == "in_part" and "The room ahead in the bedroom was not measured." in asked().reason
    for more in ({"clear_ahead_mm": 3000}, {"profile": None}, {"kind": "ramp"}):
        assert "room ahead in the bedroom" not in asked(**more).reason


def test_a_room_with_no_floor_left_for_whoever_must_be_near_is_met_in_part_until_their_place_is_written():
    """The chair turns in 1220 mm; whoever is near takes 460 mm from front to back."""
    kitchen = ("spaces.1.turning_mm", 1600)
    near = {"place": "at home", "level": "same_room", "by": "an aunt", "covers": [WHOLE["spaces"][1]["id"]]}

    def asked(floor, *places):
        return ask("stops_within_space", grounds(changed(floor, ("supervision", [*places]))))

    open_ = asked(kitchen, near)
    assert (
        open_.stands == "in_part"
        and "is not settled: the free floor is 63 in (1600 mm) in the kitchen." in open_.reason
    )
    told = asked(kitchen, near | {"stands_clear": "in the doorway."})
    assert "Whoever is near stands in the doorway." in told.reason and "is not settled" not in told.reason
    for other in (asked(kitchen, near | {"level": "alone"}), asked(("spaces.1.turning_mm", 1680), near)):
        assert "Whoever is near" not in other.reason and "whoever is near" not in other.reason
