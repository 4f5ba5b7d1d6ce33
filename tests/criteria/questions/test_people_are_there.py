"""What `people_are_there` says of each record."""

from __future__ import annotations

from datetime import time

import pytest
from hours_there import WEEK, there
from records import Records
from whole_case import GONE, ROWS, ask, changed, grounds

from docgen.criteria.payer import load
from docgen.criteria.run import blocking, verdicts

AIDE = (
    "people.+",
    {"id": "aide", "role": "caregiver", "relation": "aide", "there": there(f"{WEEK} 09:00-15:00")},
)
AUNT = ("people.2.there", there("06:30-08:30 18:00-21:00"))
TAUGHT = ("taught.+", {"who": "aide", "what": "stop"})
TWO = (
    "supervision.+",
    {"place": "on the ramp", "level": "arms_length", "by": "two", "needs": 2, "who": ["aunt", "aide"]},
)


def lesson(start: int, end: int) -> tuple[str, list[dict[str, object]]]:
    hours = {"day": "monday", "free": True, "starts_at": time(start), "ends_at": time(end), "who": "aunt"}
    return "training.week", [hours]


def lesson_to(starts_at: time, ends_at: time) -> tuple[str, list[dict[str, object]]]:
    hours = {"day": "monday", "free": True, "starts_at": starts_at, "ends_at": ends_at}
    return "training.week", [hours | {"who": "aunt"}]


def lesson_of_coach(start: int) -> list[tuple[str, object]]:
    return [("training.coach", "aunt"), ("training.week", [lesson(start, start + 1)[1][0] | {"who": None}])]


RECORDS = Records(
    "people_are_there",
    met=[
        ("the whole case", []),
        ("a lesson while the coach is there", [AUNT, lesson(18, 20)]),
        ("two who are there together", [AUNT, AIDE, TAUGHT, TWO, ("people.4.there", there("08:00-12:00"))]),
        ("a lesson of somebody whose hours nobody told", [lesson(15, 16)]),
        ("hours in words alone, and no lesson", [("people.2.available", "mornings")]),
        ("a lesson of the coach of the training", [AUNT, *lesson_of_coach(18)]),
        ("a lesson that ends to the minute", [AUNT, lesson_to(time(20, 15), time(21))]),
        ("one needed, and not who", [("supervision.0.needs", 1)]),
        ("nobody told to be needed, and one who is away", [AUNT, AIDE, TAUGHT, (TWO[0], TWO[1] | {"needs": None})]),
        ("one needed of two who are never there together", [AUNT, AIDE, TAUGHT, (TWO[0], TWO[1] | {"needs": 1})]),
        ("one who was taught", [("supervision.0.who", ["aunt"])]),
        ("the therapist, who teaches", [("supervision.0.who", ["ot"])]),
        ("a substitute who is there", [AUNT, AIDE, TAUGHT, lesson(18, 20), ("training.substitute", "aunt")]),
    ],
    not_met=[
        ("a lesson when the coach is away", [AUNT, lesson(15, 16)]),
        ("two who are never there together", [AUNT, AIDE, TAUGHT, TWO]),
        ("a lesson when the coach of the training is away", [AUNT, *lesson_of_coach(15)]),
        (
            "a substitute who is there at no lesson",
            [AUNT, AIDE, TAUGHT, lesson(18, 20), ("training.substitute", "aide")],
        ),
        ("a lesson a minute too long", [AUNT, lesson_to(time(20, 15), time(21, 1))]),
        ("a lesson when the coach is away, and two who never meet", [AUNT, AIDE, TAUGHT, TWO, lesson(15, 16)]),
        ("one who is not among the people", [("supervision.0.who", ["neighbor"])]),
        ("a relation, and nobody was taught", [("supervision.0.who", ["aunt"]), ("taught", [])]),
        ("one who was not taught", [AIDE, ("supervision.0.who", ["aide"])]),
    ],
    cannot_tell=[
        ("no supervision", [("supervision", [])]),
        ("two people, and not who", [("supervision.0.needs", 2)]),
        ("two people, and not when", [AUNT, AIDE, TAUGHT, TWO, ("people.4.there", GONE)]),
        ("a lesson of somebody whose hours are told in words", [("people.2.available", "mornings"), lesson(15, 16)]),
        (
            "a substitute whose hours are told in words",
            [AUNT, lesson(18, 20), ("training.substitute", "ot"), ("people.0.available", "at the clinic")],
        ),
    ],
    rests_on=("supervision.*",),
    ready={"met": [], "not_met": [(("people", 4, "there"), there(f"{WEEK} 08:30-15:00"))]},
)

test_each_record_gets_its_answer = RECORDS.test()


@pytest.mark.parametrize(("changes", "blocks"), [([AUNT, AIDE, TAUGHT, TWO], True), ([AUNT, lesson(15, 16)], False)])
def test_two_people_who_are_never_there_together_hold_the_packet_whoever_pays(changes, blocks):
    here, payer = grounds(changed(*changes), ROWS), load("charity_or_school", "")
    held = {v.criterion.id for v in blocking(verdicts(here, payer, payer.reviewed_on))}
    assert ("people_are_there" in held) is blocks


def test_the_people_and_the_rule_are_pointed_to():
    answer = ask("people_are_there", grounds(changed(AUNT, AIDE, TAUGHT, TWO)))
    assert "2 people are needed on the ramp" in answer.reason
    assert {("supervision", 1), ("people", 2, "there"), ("people", 4, "there")} <= set(answer.where)
