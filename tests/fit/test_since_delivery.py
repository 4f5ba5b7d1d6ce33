"""Signs and settings once there are lessons: what is seen now, and what the lessons changed."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from gathered import of_each

from cases import case_of
from docgen.case.profile import Profile
from docgen.case.session import SessionRow
from docgen.evidence.gather import evidence
from docgen.evidence.training import at_stage_now
from docgen.fit.settings import Move, moved, ways
from docgen.fit.signs import LEAST_TRIES, signs_now, signs_of_lessons

DAY = date(2026, 7, 13)
TRAINING = Profile(id="training", name="training", speed_m_s=0.3, reverse_m_s=0.15, turn_deg_s=20)
INDOOR = Profile(id="indoor", name="indoor", speed_m_s=0.5, reverse_m_s=0.25, turn_deg_s=30)


def lessons(*rows, stage=4):
    """A case with two profiles whose lessons hold these rows; each is the columns that differ from a try done."""
    case = case_of([])
    case = case.model_copy(
        update={
            "trial": case.trial.model_copy(update={"done_rule": "task_rule"}),  # a try with a contact may be done here
            "training": case.training.model_copy(update={"stage": stage}),
            "configuration": case.configuration.model_copy(update={"profiles": (TRAINING, INDOOR)}),
        }
    )
    made = [
        SessionRow(**{"line": at, "date": DAY, "stage": stage, "task": "straight", "success": True} | row)
        for at, row in enumerate(rows, start=2)
    ]
    return case.with_sessions(made)


def test_one_missed_stop_is_a_sign_at_once_and_a_share_takes_so_many_tries():
    few = signs_of_lessons(*with_facts({"task": "stop_word", "success": False}, {"task": "corner", "success": False}))
    assert (
        few["stops_missed"].seen
        and few["stops_missed"].in_words == "a stop was missed (1 of 1)"
        and few["corners_lost"].seen is None
    )
    many = signs_of_lessons(*with_facts(*[{"task": "corner", "success": at > 1} for at in range(LEAST_TRIES)]))
    assert many["corners_lost"].seen  # 4 of 6
    assert many["stops_missed"].seen is None


def test_signs_are_those_of_the_stage_reached_once_there_are_lessons():
    case, found = with_facts({"task": "stop_word", "success": False, "stage": 5}, {"stage": 4}, {"stage": 4})
    assert [row.stage for row in at_stage_now(case)] == [4, 4]
    assert (
        signs_now(case, found) == signs_of_lessons(case, found) and signs_now(case, found)["stops_missed"].seen is None
    )
    assert not [
        one for one in moved(case, found, signs_now(case, found)) if one.setting.name == "maximum forward speed"
    ]
    without = case.with_sessions(())
    assert signs_now(without, evidence(without))["stops_missed"].seen is None  # nothing was tried either


def with_facts(*rows):
    case = lessons(*rows)
    return case, evidence(case)


@pytest.mark.parametrize(
    "moves, told",
    [
        (["up", "up, only where the slower chair stalls"], "up, only where the slower chair stalls"),
        (["off", "off until a stop is shown"], "off until a stop is shown"),
        (["down", "up"], "down or up"),
        (["down", "down"], "down"),
    ],
)
def test_a_way_with_a_condition_stands_for_the_bare_one(moves, told):
    assert ways(tuple((Move(signs=("x",), move=move, because="y"), ("z",)) for move in moves)) == told


BUMP = {"task": "corner", "stage": 4, "contacts": 1}
LOST = {"success": False}


@pytest.mark.parametrize(
    "rows, n",
    [
        ([BUMP] * 3, 3),
        ([BUMP, BUMP, {"stage": 3, "task": "left"}], 2),  # one try of another stage takes nothing away
        ([BUMP, {"stage": 3, "task": "left"}, BUMP], 2),
        ([BUMP] + [{"stage": 3, "task": "left"} | LOST] * 6, 1),  # nothing is taken back by a count
    ],
)
def test_rows_of_the_stage_reached_are_those_since_it_was_entered(rows, n):
    assert sum(row.contacts or 0 for row in at_stage_now(lessons(*rows))) == n


def test_a_stage_that_the_therapist_went_back_to_counts_from_then_on():
    """Twice two rows of nothing wait for the therapist; the first try cleared at an earlier step goes back to it."""
    lost = [BUMP | LOST | {"date": DAY + timedelta(days=at // 5)} for at in range(20)]
    later = DAY + timedelta(days=5)
    left = {"stage": 3, "task": "left", "date": later}
    case = lessons(*lost, left | {"cleared_by": "therapist"}, left | {"contacts": 2}, BUMP | {"date": later})
    assert [row.contacts for row in at_stage_now(case)] == [2]
    assert len(at_stage_now(lessons(*lost, left))) == 20  # nobody has decided


@of_each(
    "rows, seen, told",
    [
        ([BUMP] * 15, True, "15 in 15 tries"),  # no distance anywhere
        ([BUMP | {"distance_m": 10.0}] * 2, True, "10 in 328 ft (100 m)"),
        ([BUMP | {"distance_m": 300.0}] * 2, False, "0.333 in 328 ft (100 m)"),
        (
            [{"task": "corner", "contacts": 0, "distance_m": 500.0}] + [BUMP | {"date": date(2026, 7, 20)}] * 6,
            True,
            "6 in 7 tries",
        ),
        ([BUMP], False, "1 in 1 tries"),
        ([BUMP, BUMP] + [{"task": "corner", "contacts": 0}] * 18, False, "2 in 20 tries"),
        ([{"task": "corner"}] * 6, None, None),
    ],
)
def test_bumps_are_often_by_distance_and_where_there_is_none_by_tries(rows, seen, told):
    sign = signs_of_lessons(*with_facts(*[{"stage": 4} | row for row in rows]))["contacts_often"]
    assert sign.seen is seen and sign.in_words == (f"{sign.label} ({told})" if told else sign.label)
