"""Letting go and stopping: releases, missed stops, distances and speeds, counted and worked out by hand."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each
from small_trial import attempt, known, of_day, small_case

from docgen.evidence.facts import input_off, stopping

CHAIR = {"electronics_delay_s": 0.15, "deceleration_m_s2": 0.8}
INDOOR, UNSET = {"id": "indoor", "name": "indoor", "speed_m_s": 0.5}, {"id": "slow", "name": "slow"}
RELEASES = [attempt(2, release_s=0.9), attempt(3, release_s=0.5)]


def facts_with(
    rows=RELEASES, totals=(), chair=CHAIR, profiles=(INDOOR, UNSET), spaces=(), of=stopping.facts, **configuration
):
    return known(
        of,
        small_case(
            rows,
            totals,
            spaces=list(spaces),
            configuration={"chair": chair, "profiles": list(profiles)} | configuration,
        ),
    )


def halt(line, done, day=3, number=None, **more):
    return attempt(line, "a", done, "halt", day, attempt=number, **more)


def place(**more):
    return {"id": "s", "name": "yard", "kind": "stopping", "profile": "indoor"} | more


def test_missed_stops_are_told_in_order_with_their_notes_and_releases():
    rows = [
        halt(2, False, number=2, note="rolled on"),
        halt(3, False, number=1, note="hit the wall", release_s=1.234),
        halt(4, True, 5, release_s=0.5),
        halt(5, True, 5),
    ]
    facts = facts_with(rows, [of_day(2, 5, 3, task="halt", day=4)])
    assert (facts["stop_request.a"].k, facts["stop_request.a"].n) == (5, 9)
    missed = facts["stops_missed.a"]
    assert missed.text == (
        "2026-03-03: hit the wall (release 1.3 s); 2026-03-03: rolled on; "
        "2026-03-04, 2 of 5: what happened is not recorded"
    )
    assert (missed.n, missed.rows, missed.totals) == (4, (3, 2), (2,))
    untimed = facts["stops_untimed.a"]
    assert (untimed.value, untimed.n, untimed.rows, untimed.totals) == (3, 3, (2,), (2,))
    assert (facts["stops_since.a"].k, facts["stops_since.a"].n, facts["stops_since.a"].rows) == (2, 2, (4, 5))


def test_missed_stops_of_one_day_come_by_number_then_by_note():
    rows = [halt(2, False, number=1, note="a"), halt(3, False, note="z"), halt(4, False, note="b"), halt(5, False)]
    assert facts_with(rows)["stops_missed.a"].rows == (5, 4, 3, 2)


def test_stops_that_were_all_made_or_missed_with_a_time_leave_nothing_untimed():
    facts = facts_with([halt(2, True), halt(3, False, release_s=2.0)])
    assert "stops_untimed.a" not in facts and "stops_since.a" not in facts
    assert not {"stops_missed.a", "stops_untimed.a", "stops_since.a"} & set(facts_with([halt(2, True)]))
    other = facts_with([attempt(2, "b", False, "halt")])
    assert other["stop_request.b"].n == 1 and "stops_missed.b" not in other


@pytest.mark.parametrize(("latched", "what"), [(None, "release"), (True, "time to the stop signal")])
def test_releases_are_told_with_each_control_and_their_slow_end_with_the_one_asked_for(latched, what):
    rows = [*RELEASES, attempt(4, "b", release_s=0.7), attempt(5)]
    facts = facts_with(rows, latched=latched)
    slowest, slow_end = facts["release_slowest.a"], facts["release.a"]
    assert (slowest.value, slowest.n, slowest.rows, slowest.note) == (0.9, 2, (2,), "of 2")
    assert slowest.label == f"slowest {what} seen, pads"
    assert (slow_end.n, slow_end.rows, slow_end.value) == (2, (2, 3), None)
    assert slow_end.label == f"upper limit of {what}, pads"
    assert facts["release_slowest.b"].label == "slowest release seen, stick" and "release.b" not in facts


@pytest.mark.parametrize(
    ("rows", "totals", "note"),
    [
        ([attempt(2)], [], "release times"),
        (RELEASES, [{"slowest_release_s": 0.8}], "of 2; of 1 day only the slowest is known, from totals"),
        ([], [{"slowest_release_s": 0.8}] * 2, "of 2 days only the slowest is known, from totals"),
        ([], [{"releases_s": (0.4, 0.8)}], "of 2"),
    ],
)
def test_of_how_many_releases_the_slowest_is_one(rows, totals, note):
    days = [of_day(at, 5, 5, day=at + 3, **more) for at, more in enumerate(totals, 2)]
    assert facts_with(rows, days)["release_slowest.a"].note == note


def test_distances_are_those_of_the_slowest_release_at_the_speed_of_each_profile():
    facts = facts_with([*RELEASES, attempt(4, "b", release_s=0.4)])
    level = facts["stopping.indoor"]
    assert level.value == pytest.approx(0.68125)  # 0.5 x (0.9 + 0.15) + 0.25 / 1.6
    assert (level.n, level.note, level.rows) == (2, "at 0.5 m/s, release 0.9 s", (2, 3))
    assert (facts["stopping.slow"].value, facts["stopping.slow"].note) == (None, "speed of the slow profile")
    other = facts["stopping_with.b.indoor"]
    assert other.value == pytest.approx(0.43125)  # 0.5 x (0.4 + 0.15) + 0.25 / 1.6
    assert other.n == 1 and other.note.startswith("at 0.5 m/s, release 0.4 s; the speed was not driven")
    assert [name for name in facts if name.startswith("stopping_with")] == ["stopping_with.b.indoor"]


def test_a_release_of_nought_is_told_as_nought():
    facts = facts_with([attempt(2, release_s=0.0), attempt(3, "b", release_s=0.0)])
    assert facts["stopping.indoor"].note == "at 0.5 m/s, release 0 s"
    assert facts["stopping_with.b.indoor"].note.startswith("at 0.5 m/s, release 0 s;")


def test_what_the_chair_lacks_is_named_in_place_of_a_distance():
    facts = facts_with(chair={"deceleration_m_s2": 0.8}, spaces=[place(clear_ahead_mm=900, slope_percent=5)])
    assert facts["stopping.indoor"].note == facts["stopping.slow"].note == "delay of the electronics"
    assert facts["safe_speed.s"].note == "delay of the electronics" and "stopping_on.s" not in facts


@of_each(
    ("space", "length_mm", "left", "speed_note"),
    [
        ({"clear_ahead_mm": 900}, 1000, None, "0.9 m ahead"),
        ({"clear_ahead_mm": 900, "ahead_from": "chair"}, 1000, None, "0.9 m ahead"),
        # in tenths of a millimetre
        (
            {"clear_ahead_mm": 1900.26, "ahead_from": "way_in"},
            1000,
            (900.3, ""),
            "0.9003 m ahead of the chair once it is in",
        ),
        ({"clear_ahead_mm": 1900, "ahead_from": "way_in"}, None, (None, "overall length of the chair"), None),
        ({"ahead_from": "way_in"}, 1000, None, None),
        ({}, 1000, None, None),
    ],
)
def test_room_from_the_way_in_is_told_once_the_chair_is_in(space, length_mm, left, speed_note):
    facts = facts_with(chair=CHAIR | {"length_mm": length_mm}, spaces=[place(**space)])
    room, speed = facts.get("room_left.s"), facts.get("safe_speed.s")
    assert (room and (room.value, room.note)) == left and (room is None or room.n == 1)
    if speed_note is None:
        assert speed is None
        return
    assert speed.note == f"{speed_note}; held to the indoor profile; the sum does not cover a missed stop"
    assert ("configuration.chair.length_mm" in speed.keys) == (left is not None)
    assert (speed.value, speed.n) == (0.5, 2)


@pytest.mark.parametrize("profile", ["indoor", "slow", None])
def test_a_slope_has_its_own_distance_at_the_speed_used_there(profile):
    facts = facts_with(spaces=[place(profile=profile, slope_percent=5, clear_ahead_mm=2000)])
    assert ("stopping_on.s" in facts) == (profile == "indoor")
    if profile == "indoor":
        fact = facts["stopping_on.s"]
        assert (fact.n, fact.note) == (2, "at 0.5 m/s, down 5%")
        # at 5% gravity takes 9.80665 x 0.049938 = 0.489723 m/s2, by hand: 0.525 + 0.25 / (2 x 0.310277)
        assert fact.value == pytest.approx(0.927866, abs=1e-5)
        assert facts["safe_speed.s"].note.startswith("2 m ahead; down 5%;")
    assert "stopping_on.s" not in facts_with(spaces=[place(clear_ahead_mm=2000)])


def test_a_stop_measured_on_a_slope_is_one_value_with_its_key():
    on = {"slope_stop_m": 0.8, "slope_stop_on": date(2026, 3, 3)}
    fact = facts_with(spaces=[place(kind="ramp", slope_percent=5, clear_ahead_mm=2000, **on)])["stopping_on.s"]
    assert (fact.value, fact.n, fact.keys, fact.note) == (0.8, 1, ("spaces.0.slope_stop_m",), "at 0.5 m/s, down 5%")


def test_a_slope_that_the_brakes_do_not_hold_has_no_distance_and_no_speed():
    facts = facts_with(spaces=[place(slope_percent=20, clear_ahead_mm=900)])
    assert facts["stopping_on.s"].value is None is facts["safe_speed.s"].value
    assert facts["stopping_on.s"].note == "stopping distance on the slope of the yard, as measured there"
    assert facts["safe_speed.s"].note.startswith("deceleration on the slope of the yard; the one on the level")
    untold = facts_with(spaces=[place(kind="ramp", clear_ahead_mm=900)])["safe_speed.s"]
    assert (untold.value, untold.note) == (None, "slope of the yard")


STOPS_BESIDE = {"stops_asked": 10, "stops_made": 9, "stops_on": date(2026, 3, 5), "stops_say": "a film ran"}


def with_pads(rows, **of_pads):
    case = small_case(rows)
    pads, stick = case.trial.methods
    trial = case.trial.model_copy(update={"methods": (pads.model_copy(update=of_pads), stick)})
    return known(stopping.facts, case.model_copy(update={"trial": trial}))


def test_stops_counted_beside_the_rows_are_told_with_those_in_them():
    facts = with_pads([halt(2, True), halt(3, True, day=4)], **STOPS_BESIDE)
    requests = facts["stop_request.a"]
    assert (requests.k, requests.n, requests.rows, requests.totals) == (11, 12, (2, 3), ())
    assert requests.keys == tuple(f"trial.methods.0.stops_{name}" for name in ("made", "asked", "on"))
    assert facts["stops_missed.a"].text == "2026-03-05, 1 of 10: a film ran"


def test_of_stops_beside_the_rows_on_a_day_that_is_not_recorded_nothing_is_known_to_come_after():
    facts = with_pads([halt(2, False), halt(3, True, day=9)], **STOPS_BESIDE | {"stops_on": None})
    assert (facts["stop_request.a"].k, facts["stop_request.a"].n) == (10, 12) and "stops_since.a" not in facts
    assert facts["stops_missed.a"].text.endswith("; a day not recorded, 1 of 10: a film ran")


@pytest.mark.parametrize("left", ["stops_asked", "stops_made"])
def test_stops_beside_the_rows_without_their_number_are_not_counted(left):
    requests = with_pads([halt(2, True)], **STOPS_BESIDE | {left: None})["stop_request.a"]
    assert (requests.k, requests.n, requests.keys) == (1, 1, ())


def test_once_the_input_is_off_the_chair_alone_needs_its_delay_and_its_braking():
    facts = facts_with(of=input_off.facts)  # 0.5 m/s x 0.15 s + 0.25 / 1.6 m and 0.15 + 0.5 / 0.8 s, worked out by hand
    assert facts["braking.indoor"].value == pytest.approx(0.075 + 0.15625)
    assert facts["braking_s.indoor"].value == pytest.approx(0.775)
    assert not any(name.endswith(".slow") or name.startswith("braking_back") for name in facts)
    harder = facts_with(of=input_off.facts, chair=CHAIR | {"deceleration_m_s2": 2.5})
    assert harder["braking.indoor"].value == pytest.approx(0.125)
    assert facts_with(of=input_off.facts, chair={"electronics_delay_s": 0.15}) == {}


@pytest.mark.parametrize("commands", [[], [{"does": "back", "input": "a pull"}]])
def test_the_chair_alone_is_held_in_reverse_to_its_own_speed(commands):
    facts = facts_with(of=input_off.facts, profiles=(INDOOR | {"reverse_m_s": 0.2},), commands=commands)
    # 0.2 m/s x 0.15 s + 0.04 / 1.6 m and 0.15 + 0.2 / 0.8 s, worked out by hand
    assert facts["braking_back.indoor"].value == pytest.approx(0.055)
    assert facts["braking_back_s.indoor"].value == pytest.approx(0.4)
    assert facts["braking.indoor"].value == pytest.approx(0.23125)


@pytest.mark.parametrize("percent, metres", [(5, 0.477866), (20, None), (None, None)])
def test_the_chair_alone_needs_more_down_a_slope_or_is_not_held_there(percent, metres):
    """By hand: 0.075 + 0.25 / (2 x 0.310277), as above; at 20% gravity takes more than the brakes give."""
    slope = place(kind="ramp", slope_percent=percent)
    fact = facts_with(of=input_off.facts, spaces=[slope])["braking_on.s"]
    assert fact.value == (metres and pytest.approx(metres, abs=1e-5))


def test_a_place_without_a_slope_has_no_way_down_it():
    assert not [name for name in facts_with(of=input_off.facts, spaces=[place()]) if name.startswith("braking_on")]


def test_what_the_chair_alone_needs_comes_straight_after_the_facts_of_stopping():
    assert input_off.ORDER - stopping.ORDER == 1


def test_a_time_to_stop_is_told_and_no_release_is_made_of_it():
    found = facts_with([attempt(2, stop_s=0.7), attempt(3, stop_s=0.21), attempt(4)])
    told = found["stop_time.a"]
    assert (told.value, told.n, told.note, told.rows) == (0.7, 2, "of 2, the shortest 0.21 s", (2, 3))
    assert found["release_slowest.a"].value is None
