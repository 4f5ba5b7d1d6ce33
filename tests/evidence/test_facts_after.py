"""Training after delivery as facts: every value counted by hand from eleven tries of three lessons."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each
from small_trial import known as known_of
from small_trial import small_case

from docgen.case.model import Case
from docgen.case.read import frozen
from docgen.case.record import Row
from docgen.case.session import SessionRow
from docgen.evidence.fact import Evidence
from docgen.evidence.facts import after as of_lessons
from docgen.evidence.gather import evidence

FIRST, LATER, LAST = date(2026, 1, 5), date(2026, 3, 2), date(2026, 3, 9)
TRIES = [
    SessionRow(2, FIRST, 4, "straight", True, help=0, missed=0, contacts=1, near_misses=1, minutes=20, distance_m=10,
               fatigue_before=2, tone_before=1),
    SessionRow(3, FIRST, 4, "corner", False, help=2, missed=2, contacts=0, release_s=0.9),
    SessionRow(4, FIRST, 4, "stop_word", True, help=0, release_s=0.0),
    SessionRow(5, FIRST, 4, "front_door", True, help=1, contacts=0, fatigue_after=5, tone_after=2),
    SessionRow(6, LATER, 4, "straight", True, help=0, contacts=2, minutes=30, distance_m=15, unintended=3,
               fatigue_before=1),
    SessionRow(7, LATER, 4, "left", False, help=0, contacts=0, unintended=0),
    SessionRow(8, LATER, 4, "stop_word", False, missed=1, contacts=0, unintended=0, release_s=1.2, fatigue_after=2),
    SessionRow(9, LAST, 4, "ramp", True, injury=True, fatigue_before=1),
    SessionRow(10, LAST, 4, "straight", True, help=3),
    SessionRow(11, LAST, 3, "corner", True),
]  # fmt: skip
TRIAL = [Row(line, date(2025, 11, 3), "pads", "t", line < 5) for line in range(2, 6)] + [
    Row(6, date(2025, 11, 3), "stick", "t", False)
]


def case_of(tries, trial=TRIAL, method="pads"):
    raw = {
        "format": "docgen case 1",
        "id": "x",
        "client": {"name": "R"},
        "trial": {
            "methods": [{"id": m, "name": m} for m in ("pads", "stick")],
            "tasks": [{"id": "t", "name": "t"}],
            "done_rule": "task_rule",  # a try with a contact may be done here
        },
        "configuration": {"method": method},
        "spaces": [
            {"id": "front_door", "name": "front door", "kind": "doorway"},
            {"id": "ramp", "name": "ramp", "kind": "ramp"},
        ],
        "training": {"stage": "corners"},
    }
    return Case.model_validate(frozen(raw)).with_records(tuple(trial)).with_sessions(tuple(tries))


def known() -> Evidence:
    """Worked out anew by each test, so that the bench of mutants sees which tests rest on it."""
    return evidence(case_of(TRIES))


@of_each(
    ("fact_id", "k", "n", "rows"),
    [
        ("since.sessions", 3, 10, range(2, 12)),
        ("since.tries", 10, 10, range(2, 12)),
        # all, and the first and last four weeks apart: 7 of 10, 3 of 4, 4 of 6
        ("since.success", 7, 10, range(2, 12)),
        ("since.success_first", 3, 4, (2, 3, 4, 5)),
        ("since.success_last", 4, 6, (6, 7, 8, 9, 10, 11)),
        ("since.driving", 6, 8, (2, 3, 5, 6, 7, 9, 10, 11)),
        ("since.stops", 1, 2, (4, 8)),
        ("since.turns", 2, 4, (3, 5, 7, 11)),  # a door is one, a ramp is none
        ("since.unaided", 3, 7, (2, 3, 4, 5, 6, 7, 10)),
        ("since.missed", 2, 3, (2, 3, 8)),
        ("stage.4.days", 3, 3, range(2, 11)),
        ("stage.4.driving", 5, 7, (2, 3, 5, 6, 7, 9, 10)),
        ("stage.4.stops", 1, 2, (4, 8)),
        ("stage.4.contacts", 3, 6, (2, 3, 5, 6, 7, 8)),
        ("stage.3.driving", 1, 1, (11,)),
        ("since.n_contacts", 3, 6, (2, 3, 5, 6, 7, 8)),
        ("since.n_near_misses", 1, 1, (2,)),
        ("since.n_unintended", 3, 3, (6, 7, 8)),
        ("since.n_missed", 3, 3, (2, 3, 8)),
        ("since.stops_met", 1, 10, (9,)),
        ("since.stops_broken", 1, 1, (10,)),
    ],
)
def test_a_count_of_lessons_is_that_of_the_rows(fact_id, k, n, rows):
    fact = known()[fact_id]
    assert (fact.k, fact.n, fact.rows) == (k, n, tuple(rows))
    assert fact.value == (k if fact.kind == "count" else pytest.approx(k / n))
    assert "sessions.csv" in fact.keys


@of_each(
    ("fact_id", "value", "rows"),
    [
        ("since.minutes", 50, (2, 6)),
        ("since.contacts", 100 * 2 / 15, (6, 7, 8)),  # 2 in the 15 m of the lesson whose tries all count them
        ("since.unintended", 3 / 30, (6, 7, 8)),  # 3 in the 30 minutes of that lesson
        ("since.release_slowest", 1.2, (8,)),
        ("since.release_slowest_first", 0.9, (3,)),
        ("since.fatigue_rise", 3, (2, 5)),
        ("since.fatigue_rise_last", 1, (6, 8)),
        ("since.tone_rise", 1, (2, 5)),
        ("stage_reached", 4, range(2, 12)),
    ],
)
def test_a_measure_of_lessons_is_worked_out_from_the_rows_that_record_it(fact_id, value, rows):
    assert known()[fact_id].value == pytest.approx(value)
    assert known()[fact_id].rows == tuple(rows)


def test_what_no_row_records_is_no_fact():
    assert not {"since.pain_rise", "since.n_person_contacts", "stage.3.stops", "stage.3.contacts"} & set(known())
    bare = evidence(case_of([SessionRow(2, FIRST, 4, "straight", True)]))
    assert not [
        name
        for name in bare
        if name.startswith(("since.minutes", "since.n_", "since.contacts", "since.release", "since.unaided"))
    ]
    assert {"since.success", "since.driving"} <= set(bare) and "since.stops" not in bare


def test_the_change_since_the_trial_is_that_of_the_last_four_weeks_with_the_same_control():
    change = known()["since.change"]
    assert change.value == pytest.approx(4 / 6 - 3 / 4) and change.n == 6 + 4  # trial: 3 of 4 with the pads
    assert change.label.endswith(", last 4 weeks minus trial")
    assert change.note.startswith("4 of 6 against 3 of 4 in the trial")
    one_window = evidence(case_of(TRIES[:4]))["since.change"]
    assert one_window.label.endswith(", training minus trial") and one_window.value == pytest.approx(0)
    assert "since.change" not in evidence(case_of(TRIES, trial=TRIAL[4:]))
    assert "since.change" not in evidence(case_of(()))


def test_labels_and_notes_say_what_is_counted():
    assert known()["since.success_first"].label.endswith(", first 4 weeks of training")
    unintended, collisions = known()["since.unintended"].label, known()["since.contacts"].label
    assert "activation" in unintended and "activation" not in collisions
    assert known()["since.n_contacts"].note.startswith("4 ")
    assert evidence(case_of(TRIES[:2]))["since.n_contacts"].note == ""
    assert known()["stage.4.contacts"].note == ""  # how many record it is told once, of all lessons


def test_a_task_still_open_is_told_as_done_alone():
    # straight at step four: try 2 alone but with a bump, try 6 too; the injury at try 9 ends what was counted before
    before_injury = evidence(case_of(TRIES[:7]))
    assert (before_injury["open.straight"].k, before_injury["open.straight"].n) == (0, 1)  # a pause of eight weeks
    assert before_injury["open.left"].k == 0 and "open.corner" not in before_injury
    for helped, k in ((0, 1), (1, 0)):
        open_now = evidence(case_of([SessionRow(2, FIRST, 4, "straight", True, help=helped)]))["open.straight"]
        assert (open_now.k, open_now.n) == (k, 1)
    untold = evidence(case_of([SessionRow(2, FIRST, 4, "straight", True)]))
    assert "open.straight" not in untold and untold["since.uncounted"].value == 1
    ahead = evidence(case_of([SessionRow(2, FIRST, 6, "real_day", True, help=0)]))
    assert ahead["since.ahead"].value == 1 and "since.uncounted" not in ahead


def test_a_count_names_its_task_its_step_and_its_full_rows():
    alone = [SessionRow(line, FIRST, 4, "straight", True, help=0) for line in range(2, 7)]
    facts = evidence(case_of([*alone, SessionRow(7, FIRST, 4, "left", False, help=0)]))
    still_open, judged, other = facts["open.straight"], facts["judged.0"], facts["open.left"]
    assert still_open.label == "straight at the step Straight and corners, still open: done alone"
    assert judged.label == f"step Straight and corners, straight, until {FIRST}: done alone"
    orientation = "the count ended at its first answer, so the interval is for orientation only"
    assert still_open.note == f"rows 5; {orientation}" and judged.note == f"open; rows 5; {orientation}"
    assert other.note == orientation  # no row of it is full
    assert "since.ahead" not in facts  # the step reached is none beyond it


def test_only_stops_by_surprise_are_counted_and_told():
    def stop(line, **more):
        return SessionRow(line, FIRST, 4, "stop_word", more.pop("success", True), **more)

    told = evidence(
        case_of(
            [
                stop(2, help=0, surprise=True),
                stop(3, help=2, surprise=True),
                stop(4, help=0, surprise=False),
                stop(5, help=0),
                stop(6, help=0, surprise=True),
            ]
        )
    )
    assert (told["since.stops_counted"].k, told["since.stops_counted"].n) == (2, 3)
    assert told["since.stops_in_a_row"].value == 1 and told["since.uncounted"].rows == (5,)


def test_goals_are_scored_then_and_now_where_both_levels_are_recorded():
    """One goal alone at -1 is 50 - 10, at +1 it is 50 + 10 (Kiresuk and Sherman 1968)."""
    reviewed = [{"on": LATER, "level": 0}, {"on": LAST, "level": 1}]
    goals = [
        {"id": "p", "says": "x", "weight": 1, "level": -1, "reached": reviewed},
        {"id": "q", "says": "x", "weight": 1, "reached": reviewed},
        {"id": "r", "says": "x", "weight": 1, "level": 2},
    ]
    facts = known_of(of_lessons.facts, small_case(goals=goals))
    assert {name: (fact.value, fact.n, fact.keys) for name, fact in facts.items()} == {
        "goals_t_then": (pytest.approx(40), 1, ("goals.0",)),
        "goals_t_now": (pytest.approx(60), 1, ("goals.0",)),
    }
