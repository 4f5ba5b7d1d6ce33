"""Each sign at its threshold, in the trial and in the lessons, and the number it is told with."""

from __future__ import annotations

import pytest
from gathered import of_each

from cases import case_of
from docgen.evidence.fact import Evidence, Fact, Kind
from docgen.fit.signs import signs, signs_of_lessons

TRIED = case_of(
    trial={
        "methods": ({"id": "pads", "name": "pads"},),
        "tasks": (
            {"id": "door", "name": "a door", "shows": "steer"},
            {"id": "straight", "name": "a line", "shows": "other"},
        ),
    },
    configuration={"method": "pads"},
)

LABELS = {
    "stops_missed": "a stop was missed",
    "missed_often": "more than 1 activation in 10 is missed",
    "corners_lost": "a steering task is done less than 8 times in 10",
    "late_worse": "fewer attempts are done late in a session",
    "release_late": "release, or stopping, takes 1 s or more",
    "unintended_often": "more than 1 unintended activation in 5 minutes",
    "tone_up": "muscle tone rises by 2 or more",
    "tired": "fatigue rises by 2 or more",
    "contacts_often": "more than 1 collision in 328 ft (100 m)",
}
LABELS_OF_LESSONS = LABELS | {
    "missed_often": "a touch does nothing in more than 1 try in 10",
    "corners_lost": "corners and doors are done less than 8 times in 10",
    "contacts_often": "more than 1 collision in 328 ft (100 m), or in 10 tries",
}
# fact, kind, value, n, k, high, then its sign, whether it is seen, and the number it is told with
IN_TRIAL = [
    ("stop_request.pads", "proportion", 1.0, 4, 4, None, "stops_missed", False, "0 of 4"),
    ("stop_request.pads", "proportion", 0.75, 4, 3, None, "stops_missed", True, "1 of 4"),
    ("stop_request.pads", "proportion", 0.0, 4, None, None, "stops_missed", True, "4 of 4"),
    ("missed.pads", "proportion", 0.1, 20, 2, None, "missed_often", False, "2 of 20"),
    ("missed.pads", "proportion", 0.15, 20, 3, None, "missed_often", True, "3 of 20"),
    ("success.pads.door", "proportion", 0.8, 10, 8, None, "corners_lost", False, "8 of 10"),
    ("success.pads.door", "proportion", 0.7, 10, 7, None, "corners_lost", True, "7 of 10"),
    ("success.pads.straight", "proportion", 0.1, 10, 1, None, "corners_lost", None, ""),
    ("late.pads", "difference", -0.6, 20, None, -0.01, "late_worse", True, "-60 points"),
    ("late.pads", "difference", -0.6, 20, None, 0.0, "late_worse", False, "-60 points"),
    ("late.pads", "difference", -0.6, 20, None, None, "late_worse", False, "-60 points"),
    ("release_slowest.pads", "seconds", 1.0, 9, None, None, "release_late", True, "1 s"),
    ("release_slowest.pads", "seconds", 0.996, 9, None, None, "release_late", False, "0.996 s"),
    ("unintended.pads", "rate_minute", 0.25, 9, 5, None, "unintended_often", True, "0.25 per minute"),
    ("unintended.pads", "rate_minute", 0.2, 9, 4, None, "unintended_often", False, "0.2 per minute"),
    ("tone_rise.pads", "score", 2.0, 9, None, None, "tone_up", True, "2 points"),
    ("tone_rise.pads", "score", 1.9, 9, None, None, "tone_up", False, "1.9 points"),
    ("fatigue_rise.pads", "score", 2.0, 9, None, None, "tired", True, "2 points"),
    ("fatigue_rise.pads", "score", 1.9, 9, None, None, "tired", False, "1.9 points"),
    ("contacts.pads", "rate_100_m", 1.2, 9, 3, None, "contacts_often", True, "1.2 in 328 ft (100 m)"),
    ("contacts.pads", "rate_100_m", 1.0, 9, 3, None, "contacts_often", False, "1 in 328 ft (100 m)"),
    ("contacts_counted.pads", "in_attempts", 3.0, 19, 3, None, "contacts_often", True, "3 in 19 tries"),
    ("contacts_counted.pads", "in_attempts", 2.0, 20, 2, None, "contacts_often", False, "2 in 20 tries"),
    ("contacts_counted.pads", "in_attempts", 1.0, 3, 1, None, "contacts_often", False, "1 in 3 tries"),
]
IN_LESSONS = [
    ("since.stops_now", "proportion", 1.0, 1, 1, None, "stops_missed", False, "0 of 1"),
    ("since.stops_now", "proportion", 0.0, 1, 0, None, "stops_missed", True, "1 of 1"),
    ("since.stops_now", "proportion", 0.0, 2, None, None, "stops_missed", True, "2 of 2"),
    ("since.missed_now", "proportion", 0.1, 20, 2, None, "missed_often", False, "2 of 20"),
    ("since.missed_now", "proportion", 0.15, 20, 3, None, "missed_often", True, "3 of 20"),
    ("since.missed_now", "proportion", 0.5, 6, 3, None, "missed_often", True, "3 of 6"),
    ("since.missed_now", "proportion", 0.6, 5, 3, None, "missed_often", None, ""),
    ("since.turns_now", "proportion", 0.8, 10, 8, None, "corners_lost", False, "8 of 10"),
    ("since.turns_now", "proportion", 0.7, 10, 7, None, "corners_lost", True, "7 of 10"),
    ("since.release_slowest_now", "seconds", 1.0, 2, None, None, "release_late", True, "1 s"),
    ("since.release_slowest_now", "seconds", 0.9, 2, None, None, "release_late", False, "0.9 s"),
    ("since.unintended_now", "rate_minute", 0.25, 9, 5, None, "unintended_often", True, "0.25 per minute"),
    ("since.unintended_now", "rate_minute", 0.2, 9, 4, None, "unintended_often", False, "0.2 per minute"),
    ("since.tone_rise_now", "score", 2.0, 2, None, None, "tone_up", True, "2 points"),
    ("since.fatigue_rise_now", "score", 1.9, 2, None, None, "tired", False, "1.9 points"),
    ("since.contacts_now", "rate_100_m", 1.0, 9, 3, None, "contacts_often", False, "1 in 328 ft (100 m)"),
    ("since.contacts_now", "rate_100_m", 1.2, 9, 3, None, "contacts_often", True, "1.2 in 328 ft (100 m)"),
    ("since.n_contacts_now", "count", None, 19, 2, None, "contacts_often", None, ""),
    ("since.n_contacts_now", "count", 2.0, 19, 2, None, "contacts_often", True, "2 in 19 tries"),
    ("since.n_contacts_now", "count", 2.0, 20, 2, None, "contacts_often", False, "2 in 20 tries"),
    ("since.n_contacts_now", "count", 1.0, 5, 1, None, "contacts_often", False, "1 in 5 tries"),
    ("since.n_contacts_now", "count", 0.0, 5, 0, None, "contacts_often", None, ""),
]


TASK_NAMES = {task.id: task.name for task in TRIED.trial.tasks}


def _evidence(fact_id: str, kind: Kind, value: float | None, n: int, k: float | None, high: float | None) -> Evidence:
    return Evidence(iter([Fact(fact_id, "safely", fact_id, kind, value, n, k, high=high)]))


@of_each(("fact", "expected"), [((*row[:6],), row[6:]) for row in IN_TRIAL])
def test_a_sign_of_the_trial_is_seen_past_its_threshold_and_told_with_its_number(fact, expected):
    name, seen, number = expected
    sign = signs(TRIED, _evidence(*fact), "pads")[name]
    by_tries = seen and fact[0].startswith("contacts_counted.")
    label = "more than 1 collision in 10 attempts" if by_tries else LABELS[name]
    if seen and name == "corners_lost":  # a count of one task names it
        label += f": {TASK_NAMES[fact[0].rpartition('.')[2]]}"
    assert (sign.seen, sign.in_words) == (seen, f"{label} ({number})" if number else label)


@of_each(("fact", "expected"), [((*row[:6],), row[6:]) for row in IN_LESSONS])
def test_a_sign_of_the_lessons_is_seen_past_its_threshold_and_told_with_its_number(fact, expected):
    name, seen, number = expected
    sign, label = signs_of_lessons(TRIED, _evidence(*fact))[name], LABELS_OF_LESSONS[name]
    assert (sign.seen, sign.in_words) == (seen, f"{label} ({number})" if number else label)


@pytest.mark.parametrize(("counted", "seen"), [(3, False), (4, True)])
def test_contacts_of_lessons_are_held_against_the_tries_only_where_some_have_no_distance(counted, seen):
    """Three contacts stand in the rate; one more has no distance beside it."""
    rate = Fact("since.contacts_now", "safely", "contacts", "rate_100_m", 0.5, 9, 3)
    count = Fact("since.n_contacts_now", "safely", "contacts", "count", counted, 20, counted)
    assert signs_of_lessons(TRIED, Evidence(iter([rate, count])))["contacts_often"].seen is seen


def test_a_rate_beside_the_count_keeps_the_label_of_the_distance():
    """One fact of two says nothing of tries alone."""
    rate = Fact("contacts.pads", "safely", "contacts", "rate_100_m", 1.2, 9, 3)
    count = Fact("contacts_counted.pads", "safely", "contacts", "in_attempts", 5, 20, 5)
    sign = signs(TRIED, Evidence(iter([rate, count])), "pads")["contacts_often"]
    assert sign.seen and sign.label == "more than 1 collision in 328 ft (100 m)"
    assert [fact.id for fact in sign.facts] == ["contacts_counted.pads", "contacts.pads"]


@pytest.mark.parametrize(("in_rate", "counted", "told"), [(0, 1, True), (1, 1, False), (None, 1, True), (0, 0, False)])
def test_the_count_is_told_where_it_holds_more_than_the_rate(in_rate, counted, told):
    rate = Fact("since.contacts_now", "safely", "contacts", "rate_100_m", 0.5, 9, in_rate)
    count = Fact("since.n_contacts_now", "safely", "contacts", "count", counted, 20, counted)
    sign = signs_of_lessons(TRIED, Evidence(iter([rate, count])))["contacts_often"]
    assert ("since.n_contacts_now" in {fact.id for fact in sign.facts}) is told
