"""Signs and settings once there are lessons: what is seen now, and what the lessons changed."""

from __future__ import annotations

from datetime import date

import pytest

from cases import case_of
from docgen.case.asked import Profile
from docgen.case.session import SessionRow
from docgen.evidence.gather import evidence
from docgen.evidence.training import at_stage_now
from docgen.fit.settings import Move, in_force, moved, ways
from docgen.fit.signs import LEAST_TRIES, signs_now, signs_of_lessons

DAY = date(2026, 7, 13)
TRAINING = Profile(id="training", name="training", speed_m_s=0.3, reverse_m_s=0.15, turn_deg_s=20)
INDOOR = Profile(id="indoor", name="indoor", speed_m_s=0.5, reverse_m_s=0.25, turn_deg_s=30)


def lessons(*rows, stage=4):
    """A case with two profiles whose lessons hold these rows; each is the columns that differ from a try done."""
    case = case_of([])
    case = case.model_copy(update={"training": case.training.model_copy(update={"stage": stage}),
                                   "configuration": case.configuration.model_copy(update={"profiles": (TRAINING, INDOOR)})})
    made = [SessionRow(**{"line": at, "date": DAY, "stage": stage, "task": "straight", "success": True} | row) for at, row in enumerate(rows, start=2)]
    return case.with_sessions(made)


@pytest.mark.parametrize("says, training, indoor", [
    ("turn speed of the training profile 20 to 16 degrees/s, by the supplier", (0.3, 0.15, 16), (0.5, 0.25, 30)),
    ("training profile: speed 0.3 to 0.25 m/s", (0.25, 0.15, 20), (0.5, 0.25, 30)),
    ("Indoor, reverse speed 0.25 to 0.2 m/s", (0.3, 0.15, 20), (0.5, 0.2, 30)),
    ("training profile, turn acceleration down one step", (0.3, 0.15, 20), (0.5, 0.25, 30)),  # no value of the table
    ("turn speed of the training profile 25 to 16 degrees/s", (0.3, 0.15, 20), (0.5, 0.25, 30)),  # not what it was before
    ("training and indoor profile 20 to 16 degrees/s", (0.3, 0.15, 20), (0.5, 0.25, 30)),  # which one is not clear
])
def test_a_recorded_change_is_applied_where_it_is_clear_and_told_wherever_it_names_a_profile(says, training, indoor):
    found = {one.profile.id: one for one in in_force(lessons({}, {"changed": says}))}
    assert [(p.profile.speed_m_s, p.profile.reverse_m_s, p.profile.turn_deg_s) for p in (found["training"], found["indoor"])] == [training, indoor]
    for name, one in found.items():
        assert one.changes == (((DAY, says),) if name in says.lower() else ())


def test_changes_follow_one_another():
    found = in_force(lessons({"changed": "training profile 20 to 16 degrees/s"}, {"changed": "training profile 16 to 14 degrees/s"}))[0]
    assert found.profile.turn_deg_s == 14 and len(found.changes) == 2


def test_one_missed_stop_is_a_sign_at_once_and_a_share_takes_so_many_tries():
    few = signs_of_lessons(*with_facts({"task": "stop_word", "success": False}, {"task": "corner", "success": False}))
    assert few["stops_missed"].seen and few["stops_missed"].told == "a stop was missed (1 of 1)" and few["corners_lost"].seen is None
    many = signs_of_lessons(*with_facts(*[{"task": "corner", "success": at > 1} for at in range(LEAST_TRIES)]))
    assert many["corners_lost"].seen  # 4 of 6
    assert many["stops_missed"].seen is None


def test_signs_are_those_of_the_stage_reached_once_there_are_lessons():
    case, found = with_facts({"task": "stop_word", "success": False, "stage": 5}, {"stage": 4}, {"stage": 4})
    assert [row.stage for row in at_stage_now(case)] == [4, 4]
    assert signs_now(case, found) == signs_of_lessons(case, found) and signs_now(case, found)["stops_missed"].seen is None
    assert not [one for one in moved(case, found, signs_now(case, found)) if one.setting.name == "forward speed"]
    without = case.with_sessions(())
    assert signs_now(without, evidence(without))["stops_missed"].seen is None  # nothing was tried either


def with_facts(*rows):
    case = lessons(*rows)
    return case, evidence(case)


@pytest.mark.parametrize("moves, told", [
    (["up", "up, only where the slower chair stalls"], "up, only where the slower chair stalls"),
    (["off", "off until a stop is shown"], "off until a stop is shown"),
    (["down", "up"], "down or up"), (["down", "down"], "down"),
])
def test_a_way_with_a_condition_stands_for_the_bare_one(moves, told):
    assert ways(tuple((Move(signs=("x",), move=move, because="y"), ("z",)) for move in moves)) == told
