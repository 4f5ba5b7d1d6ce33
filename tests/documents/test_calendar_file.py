"""The calendar file, read back by another library: whole, on free days, at the same hour all year, the same each
time."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest
from in_full import tables_in_full
from support import CASES, DEMO_FOLDERS, assess

from docgen.case.key import mark_of
from docgen.case.read import read_case
from docgen.documents.events import calendar_file, events
from docgen.fit.schedule import DAYS, sessions
from docgen.packet.render import render
from docgen.packet.wording import language_words
from docgen.rendering.ics import Event, calendar_bytes
from docgen.rendering.seal import sealed

vobject = pytest.importorskip("vobject")  # vobject 0.9.9, an independent reader of iCalendar
KEY, OTHER_KEY = "0f" * 16, "1e" * 16
PLANNED = [name for name, case in CASES.items() if sessions(case)]


def parsed(data: bytes):
    return vobject.readOne(data.decode("utf-8"))


@pytest.mark.parametrize("name", PLANNED)
def test_every_lesson_and_visit_is_read_back_at_its_local_hour(name):
    case = CASES[name]
    calendar = parsed(calendar_file(case, language_words(), KEY))
    lessons = [entry for entry in calendar.vevent_list if isinstance(entry.dtstart.value, datetime)]
    zone = ZoneInfo(case.training.zone)
    assert [(e.dtstart.value.date(), e.dtstart.value.time()) for e in lessons] == [
        (slot.on, slot.starts_at) for slot in sessions(case)
    ]
    for entry, slot in zip(lessons, sessions(case), strict=True):
        # the instant the file's own zone rules give equals the instant of Python's zone data
        assert entry.dtstart.value.astimezone(UTC) == datetime.combine(slot.on, slot.starts_at, zone).astimezone(UTC)
        assert (entry.dtend.value - entry.dtstart.value).total_seconds() == slot.minutes * 60
    assert len(calendar.vevent_list) == len(events(case, language_words(), KEY))
    assert len({entry.uid.value for entry in calendar.vevent_list}) == len(calendar.vevent_list)


@pytest.mark.parametrize("name", PLANNED)
def test_no_lesson_falls_on_a_day_the_case_says_is_taken(name):
    folder = next(folder for folder in DEMO_FOLDERS if folder.name == name)
    raw = tables_in_full(folder)["training"]  # read here on its own
    whole_days = {h["day"] for h in raw["week"] if not h["free"] and "starts_at" not in h}
    assert whole_days
    for entry in parsed(calendar_file(CASES[name], language_words(), KEY)).vevent_list:
        start = entry.dtstart.value
        if isinstance(start, datetime):
            assert DAYS[start.weekday()] not in whole_days and start.date() not in raw.get("taken_on", [])


def test_a_change_to_winter_time_moves_no_hour_on_the_wall():
    # US clocks went back on November 1, 2026: 6:30 pm is 23:30 UTC before and 00:30 UTC after
    case = CASES["saoirse-villalobos-ng"]
    mondays = [
        e.dtstart.value
        for e in parsed(calendar_file(case, language_words(), KEY)).vevent_list
        if isinstance(e.dtstart.value, datetime) and e.dtstart.value.weekday() == 0
    ]
    assert {start.time().isoformat() for start in mondays} == {"18:30:00"}
    offsets = {start.date() < date(2026, 11, 1): start.utcoffset().total_seconds() / 3600 for start in mondays}
    assert offsets == {True: -5.0, False: -6.0}


@pytest.mark.parametrize(
    ("zone", "summer", "winter"),
    [
        ("America/New_York", -4, -5),
        ("Europe/Berlin", 2, 1),
        ("Australia/Sydney", 10, 11),
        ("America/Phoenix", -7, -7),
        ("Asia/Kolkata", 5.5, 5.5),
    ],
)
def test_zones_keep_their_own_rules(zone, summer, winter):
    # offsets of these zones in July and in January: common knowledge of the zone database
    made = calendar_bytes(
        [Event("a", datetime(2026, 7, 6, 9, 0), "x", 30), Event("b", datetime(2027, 1, 4, 9, 0), "x", 30)],
        zone,
        datetime(2026, 3, 1, tzinfo=UTC),
        "n",
    )
    found = [entry.dtstart.value for entry in parsed(made).vevent_list]
    assert [start.hour for start in found] == [9, 9]
    assert [start.utcoffset().total_seconds() / 3600 for start in found] == [summer, winter]


def test_text_with_commas_lines_and_other_letters_comes_back_whole():
    says = "Ramp; door, left\nŁódź: bring \\ the sheet" + " and more" * 20
    (entry,) = parsed(
        calendar_bytes(
            [Event("a", date(2026, 7, 6), "Visit, Zoë", says=says)], "UTC", datetime(2026, 3, 1, tzinfo=UTC), "n"
        )
    ).vevent_list
    assert (
        entry.summary.value == "Visit, Zoë"
        and entry.description.value == says
        and entry.dtstart.value == date(2026, 7, 6)
    )


@pytest.mark.parametrize("name", PLANNED)
def test_the_same_case_gives_the_same_bytes_and_names_nobody(name):
    case, words = CASES[name], language_words()
    made = calendar_file(case, words, KEY)
    assert made == calendar_file(read_case(next(f for f in DEMO_FOLDERS if f.name == name)).case, words, KEY)
    told = made.replace(b"\r\n ", b"").decode()
    for word in [*case.client.name.split(), case.id, *(d.name for d in case.diagnoses), case.client.member_id]:
        assert word not in told
    assert f"DTSTAMP:{case.dates.written_on:%Y%m%d}T000000Z" in told


def test_a_case_whose_week_is_not_known_has_no_calendar():
    assert calendar_file(CASES["bohdan-lacroix-mbeki"], language_words(), KEY) is None


def test_the_packet_holds_the_calendar_beside_the_plan():
    one = assess(next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale"))
    assert render(one, ["html"], ["plan"])["training.ics"] == sealed(
        "training.ics", calendar_file(one.file.case, language_words(), one.file.key), mark_of(one.file.key)
    )
    assert "training.ics" not in render(one, ["html"], ["lesson"])


def _uids(case, key):
    return [entry.uid.value for entry in parsed(calendar_file(case, language_words(), key)).vevent_list]


def test_events_are_known_by_the_random_key_and_by_nothing_that_could_be_guessed():
    case = CASES[PLANNED[0]]
    renamed = case.model_copy(
        update={"id": "another", "client": case.client.model_copy(update={"name": "Somebody Else"})}
    )
    assert _uids(case, KEY) == _uids(renamed, KEY)  # a name corrected moves no event
    assert not {*_uids(case, KEY)} & {*_uids(case, OTHER_KEY)}
    assert KEY not in calendar_file(case, language_words(), KEY).decode()


def test_a_calendar_line_is_no_longer_than_the_format_has_it():
    """Source: RFC 5545, 3.1: lines of at most 75 octets, without their end."""
    one = assess(next(f for f in DEMO_FOLDERS if f.name == PLANNED[0]))
    lines = render(one, ["html"], ["plan"])["training.ics"].split(b"\r\n")
    assert max(map(len, lines)) <= 75 and any(line.startswith(b"X-DOCGEN:") for line in lines)
