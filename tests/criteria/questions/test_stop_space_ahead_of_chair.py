"""What `stop_space_ahead_of_chair` says of each record."""

from __future__ import annotations

import pytest
from records import Records
from whole_case import GONE, ROWS, ask, attempts, changed, grounds

from docgen.criteria.payer import load
from docgen.criteria.run import blocking, verdicts

BATH, LENGTH = "spaces.0", "configuration.chair.length_mm"
FROM_DOOR = (f"{BATH}.ahead_from", "way_in")

RECORDS = Records(
    "stop_space_ahead_of_chair",
    met=[
        ("the whole case", []),
        ("measured from the door, with room left", [FROM_DOOR, (f"{BATH}.clear_ahead_mm", 2100)]),
        (
            "not said from where, and enough either way",
            [(f"{BATH}.ahead_from", GONE), (f"{BATH}.clear_ahead_mm", 2100)],
        ),
        (
            "not said from where, and just enough either way",
            [(f"{BATH}.ahead_from", GONE), (f"{BATH}.clear_ahead_mm", 1400)],
        ),
    ],
    not_met=[
        ("said to stop where it does not", [FROM_DOOR, ("configuration.profiles.0.why", "Stops inside every room.")]),
    ],
    cannot_tell=[
        ("not said from where, and too short if from the door", [(f"{BATH}.ahead_from", GONE)]),
        (
            "not said from where, and a millimeter short if from the door",
            [(f"{BATH}.ahead_from", GONE), (f"{BATH}.clear_ahead_mm", 1399)],
        ),
        ("no length of the chair", [FROM_DOOR, (LENGTH, GONE)]),
        (
            "no length of the chair, and of one place not from where",
            [FROM_DOOR, ("spaces.1.ahead_from", GONE), (LENGTH, GONE)],
        ),
        ("no length of the chair, and of no place from where", [(f"{BATH}.ahead_from", GONE), (LENGTH, GONE)]),
    ],
    does_not_apply=[
        ("no space ahead", [(f"{BATH}.clear_ahead_mm", GONE), ("spaces.1.clear_ahead_mm", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("spaces", 0, "ahead_from"), None), (("spaces", 0, "clear_ahead_mm"), 1300)],
        "not_met": [(("spaces", 0, "clear_ahead_mm"), 1300)],
    },
    rests_on=("spaces.*.ahead_from",),
)

test_each_record_gets_its_answer = RECORDS.test()


def held(*changes):
    here = grounds(changed(*changes), ROWS)
    return here, {
        v.criterion.id for v in blocking(verdicts(here, load("charity_or_school", ""), load("general", "").reviewed_on))
    }


def test_a_door_with_too_little_behind_it_holds_the_packet_whoever_pays():
    """0.4 m/s, 0.6 s to let go, 0.15 s, 0.8 m/s2: 0.30 + 0.10 = 0.40 m (by hand); 1300 mm less 1000 leave 0.30."""
    here, blocked = held(FROM_DOOR, ("configuration.profiles.0.why", "Steady."))
    assert "stops_within_space" in blocked
    assert "stops in 15 3/4 in (400 mm) and has 11 3/4 in (300 mm)" in ask("stops_within_space", here).reason


def test_both_readings_are_told_with_their_keys_where_the_record_does_not_say_which_holds():
    here, blocked = held((f"{BATH}.ahead_from", GONE))
    answer = ask("stop_space_ahead_of_chair", here)
    assert (
        "4 ft 3 in (1300 mm) ahead" in answer.reason
        and "the chair takes 3 ft 4 in (1000 mm)" in answer.reason
        and "stops in 1 ft 4 in (400 mm)" in answer.reason
    )
    assert ("spaces", 0, "ahead_from") in answer.where and ("configuration", "chair", "length_mm") in answer.where
    assert "stop_space_ahead_of_chair" in blocked


@pytest.mark.parametrize(("clear_mm", "fits"), [(1400, True), (1399, False)])
def test_the_last_millimetre_decides(clear_mm, fits):
    here = grounds(changed(FROM_DOOR, (f"{BATH}.clear_ahead_mm", clear_mm)), attempts("pads", "1" * 24))
    there = next(place for place in here.evidence.stopping.places if place.space.id == "bath")
    assert there.stops is fits
