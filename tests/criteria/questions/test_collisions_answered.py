"""What `collisions_answered` says of each record."""

from __future__ import annotations

from changes import LESSONS
from records import Records
from whole_case import DELIVERED, ask, changed, grounds

TRIES = ("sessions", [LESSONS[0] | {"contacts": 0}] * 10)
BUMPED = ("sessions", [LESSONS[0] | {"contacts": contacts, "success": not contacts} for contacts in (1, 1, 0, 0, 0, 0)])
HERE = {"place": "at home", "level": "same_room", "by": "an aunt", "covers": [LESSONS[0]["task"]]}
PLACE, FOR_NOW = "supervision.0", {"for_now": "No driving there until the therapist has decided."}

RECORDS = Records(
    "collisions_answered",
    met=[
        ("lessons without a collision", [*DELIVERED, TRIES, (PLACE, HERE)]),
        ("collisions, and what holds for now", [*DELIVERED, BUMPED, (PLACE, HERE | FOR_NOW)]),
    ],
    cannot_tell=[
        ("collisions, and nothing holds for now", [*DELIVERED, BUMPED, (PLACE, HERE)]),
    ],
    does_not_apply=[
        ("no delivery", []),
        ("no lesson", DELIVERED),
        ("collisions where no rule is stated", [*DELIVERED, BUMPED, (PLACE, HERE | {"covers": []})]),
        ("collisions where a rule begins later", [*DELIVERED, BUMPED, (PLACE, HERE | {"after_stage": "tight"})]),
    ],
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_request_in_the_writing_is_not_asked_about_lessons_whatever_its_day():
    undated = [(key, None) for key in ("request.requested_on", "dates.ordered_on", "dates.written_on")]
    assert ask("collisions_answered", grounds(changed(*undated))).status == "does_not_apply"
