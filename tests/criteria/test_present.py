"""When someone is there by the words of `available`, to the minute."""

from __future__ import annotations

import pytest
from gathered import of_each

from docgen.case.who import Person
from docgen.criteria.present import DAYS, covers, present, together


def _person(available: str | None) -> Person:
    return Person(id="aunt", role="caregiver", available=available)


WEEK, EVERY = DAYS[:5], DAYS


@pytest.mark.parametrize(
    ("words", "days", "spans"),
    [
        ("school days, 08:30 to 15:05", WEEK, ((510, 905),)),
        ("Workdays, 8:00 to 12:00 and 13:00 to 17:30", WEEK, ((480, 720), (780, 1050))),
        ("weekdays, 0:00 to 24:00", WEEK, ((0, 1440),)),
        ("every day, 20:00 to 23:59", EVERY, ((1200, 1439),)),
        ("Mondays and Thursday, 09:00 to 10:00", ("monday", "thursday"), ((540, 600),)),
    ],
)
def test_days_and_hours_are_read_to_the_minute(words, days, spans):
    assert present(_person(words)) == dict.fromkeys(days, spans)


@of_each(
    "words",
    [
        "09:00 to 10:00",
        "09:00 to 10:00, and.",
        "mornings",
        "school days",
        "every day",
        "in the holidays, 09:00 to 10:00",
        None,
    ],
)
def test_words_without_hours_or_without_days_say_nothing(words):
    assert present(_person(words)) is None and present(None) is None


@of_each(
    ("day", "start", "end", "there"),
    [
        ("monday", 540, 600, True),
        ("monday", 539, 600, False),
        ("monday", 540, 601, False),
        ("monday", 610, 650, False),
        ("monday", 660, 720, True),
        ("tuesday", 540, 600, False),
    ],
)
def test_someone_is_there_for_all_of_the_minutes_or_is_not(day, start, end, there):
    assert covers({"monday": ((540, 600), (660, 720))}, day, start, end) is there


MORNING, NOON, LATE = (f"Monday, {hours}" for hours in ("09:00 to 12:00", "11:59 to 14:00", "12:00 to 14:00"))


@of_each(
    ("available", "n", "ever"),
    [
        ([MORNING, NOON], 2, True),
        ([MORNING, LATE], 2, False),
        ([MORNING, "Tuesday, 09:00 to 12:00"], 2, False),
        ([MORNING, NOON, LATE], 3, False),
        ([MORNING, MORNING, NOON], 3, True),
        ([MORNING, LATE, NOON], 2, True),
        ([MORNING, LATE, None], 2, None),
        ([MORNING, NOON, None], 2, True),
        ([MORNING, None], 3, False),
        ([MORNING], 1, True),
    ],
)
def test_so_many_people_are_together_where_their_hours_overlap(available, n, ever):
    assert together([_person(words) for words in available], n) is ever
