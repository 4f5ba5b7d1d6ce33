"""When someone is there, by the hours of the record, to the minute."""

from __future__ import annotations

import pytest
from gathered import of_each
from hours_there import WEEK, there

from docgen.case.who import HoursThere, Person
from docgen.criteria.present import DAYS, covers, hours_told, in_words_alone, present, together


def _person(hours: str | None, available: str | None = None) -> Person:
    entries = (HoursThere(**entry | {"days": tuple(entry["days"])}) for entry in there(hours or ""))
    return Person(id="aunt", role="caregiver", available=available, there=tuple(entries))


@pytest.mark.parametrize(
    ("hours", "days", "spans"),
    [
        (f"{WEEK} 08:30-15:05", DAYS[:5], ((510, 905),)),
        (f"{WEEK} 13:00-17:30 08:00-12:00", DAYS[:5], ((480, 720), (780, 1050))),
        (f"{WEEK} 00:00-00:00", DAYS[:5], ((0, 1440),)),
        ("20:00-23:59", DAYS, ((1200, 1439),)),
        ("monday thursday 09:00-10:00", ("monday", "thursday"), ((540, 600),)),
    ],
)
def test_days_and_hours_are_taken_to_the_minute(hours, days, spans):
    assert present(_person(hours)) == dict.fromkeys(days, spans)


def test_hours_past_midnight_are_of_both_days():
    assert present(_person("sunday 21:00-06:30")) == {"sunday": ((1260, 1440),), "monday": ((0, 390),)}


def test_without_hours_nobody_knows_when_and_words_alone_are_no_hours():
    assert present(_person(None)) is None and present(None) is None
    assert in_words_alone(_person(None, "mornings")) and present(_person(None, "every day, 09:00 to 10:00")) is None
    assert not in_words_alone(_person("09:00-10:00", "mornings")) and not in_words_alone(None)


def test_a_reason_tells_the_words_of_the_record_or_its_hours():
    assert hours_told(_person("monday 09:00-10:00", "Monday at nine")) == "Monday at nine"
    assert hours_told(_person("monday 09:00-10:00 12:00-13:00")) == "Monday, 09:00 to 10:00; Monday, 12:00 to 13:00"
    assert hours_told(_person("09:00-10:00")) == "every day, 09:00 to 10:00" and hours_told(None) == ""


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


MORNING, NOON, LATE = (f"monday {hours}" for hours in ("09:00-12:00", "11:59-14:00", "12:00-14:00"))


@of_each(
    ("hours", "n", "ever"),
    [
        ([MORNING, NOON], 2, True),
        ([MORNING, LATE], 2, False),
        ([MORNING, "tuesday 09:00-12:00"], 2, False),
        ([MORNING, NOON, LATE], 3, False),
        ([MORNING, MORNING, NOON], 3, True),
        ([MORNING, LATE, NOON], 2, True),
        ([MORNING, LATE, None], 2, None),
        ([MORNING, NOON, None], 2, True),
        ([MORNING, None], 3, False),
        ([MORNING], 1, True),
    ],
)
def test_so_many_people_are_together_where_their_hours_overlap(hours, n, ever):
    assert together([_person(each) for each in hours], n) is ever
