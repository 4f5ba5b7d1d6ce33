"""Days and hours of lessons: never on a day or in hours that are taken, spread over the week, after the last one
held."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.case.training import Hours, Lesson
from docgen.fit.schedule import DAYS, due_by, due_on, lacking, sessions, starts, visits

MONDAY = date(2026, 8, 10)


def free(day, begins, ends):
    return Hours(day=day, free=True, starts_at=time(*begins), ends_at=time(*ends))


def taken(day, begins=None, ends=None):
    return Hours(
        day=day, free=False, starts_at=time(*begins) if begins else None, ends_at=time(*ends) if ends else None
    )


def lesson(week, **keys):
    return Lesson(
        **{
            "start_on": MONDAY,
            "sessions_a_week": 3,
            "minutes": 30.0,
            "weeks": 4,
            "zone": "America/Chicago",
            "week": tuple(week),
        }
        | keys
    )


def case(training, **keys):
    return Case(format="docgen case 1", id="x", training=training, **keys)


EVERY_DAY = [free(day, (16, 0), (18, 0)) for day in DAYS]


def test_three_lessons_of_seven_free_days_stand_two_days_apart():
    assert sorted(starts(lesson(EVERY_DAY))) == [0, 2, 4]  # by hand: gaps 2, 2 and 3
    assert sorted(starts(lesson(EVERY_DAY, sessions_a_week=2))) == [0, 3]


def test_taken_hours_move_the_lesson_behind_them_or_off_the_day():
    week = [free("monday", (16, 0), (18, 0)), taken("monday", (15, 30), (16, 40))]
    assert starts(lesson(week)) == {0: time(16, 40)}
    assert starts(lesson([*week, taken("monday", (17, 0), (17, 45))])) == {}  # 20 minutes, then 15
    assert starts(lesson([*week, taken("monday")])) == {}


def test_the_lessons_planned_lie_in_the_weeks_planned_and_not_on_single_days_taken():
    found = sessions(case(lesson(EVERY_DAY, taken_on=(date(2026, 8, 14),))))
    assert [slot.on for slot in found[:4]] == [
        date(2026, 8, 10),
        date(2026, 8, 12),
        date(2026, 8, 17),
        date(2026, 8, 19),
    ]
    assert len(found) == 11 and found[-1].on == date(2026, 9, 4)


def test_lessons_that_were_held_are_not_planned_again():
    held = case(lesson(EVERY_DAY)).with_sessions((SessionRow(2, date(2026, 8, 17), 3, "left", True),))
    assert sessions(held)[0].on == date(2026, 8, 19)


@of_each("key", ["start_on", "sessions_a_week", "minutes", "weeks", "zone", "week"])
def test_without_a_key_no_lesson_has_a_day_and_the_key_is_named(key):
    bare = lesson(EVERY_DAY).model_copy(update={key: () if key == "week" else None})
    assert sessions(case(bare)) == () and lacking(bare) == (key,)


def test_visits_are_due_so_many_weeks_after_delivery_until_they_are_held():
    planned = [
        {"after_weeks": 2.0, "what": "fit"},
        {"after_weeks": 6.0, "what": "driving", "done_on": date(2026, 9, 1)},
    ]
    delivered = Case.model_validate(
        {"format": "docgen case 1", "id": "x", "dates": {"delivered_on": MONDAY}, "follow_up": tuple(planned)}
    )
    assert [on for on, _ in visits(delivered)] == [date(2026, 8, 24)]
    assert not [*visits(case(lesson(EVERY_DAY)))]


hours = st.builds(
    lambda day, free_, a, n: Hours(
        day=day, free=free_, starts_at=time(a // 4, a % 4 * 15), ends_at=time((a + n) // 4, (a + n) % 4 * 15)
    ),
    st.sampled_from(DAYS),
    st.booleans(),
    st.integers(24, 80),
    st.integers(1, 12),
)
weeks = st.lists(st.one_of(hours, st.builds(lambda day: taken(day), st.sampled_from(DAYS))), max_size=14)


@settings(max_examples=120, deadline=None, derandomize=True)
@given(
    weeks, st.integers(1, 7), st.integers(1, 90), st.lists(st.dates(MONDAY, MONDAY + timedelta(days=60)), max_size=8)
)
def test_no_lesson_is_ever_on_a_day_or_in_hours_that_are_taken(week, a_week, minutes, days_off):
    found = sessions(
        case(lesson(week, sessions_a_week=a_week, minutes=float(minutes), weeks=8, taken_on=tuple(days_off)))
    )
    for slot in found:
        name, begins = DAYS[slot.on.weekday()], datetime.combine(slot.on, slot.starts_at)
        ends = begins + timedelta(minutes=minutes)
        assert slot.on not in days_off and MONDAY <= slot.on < MONDAY + timedelta(weeks=8)
        of_day = [one for one in week if one.day == name]
        assert any(
            one.free and one.starts_at <= slot.starts_at and ends <= datetime.combine(slot.on, one.ends_at)
            for one in of_day
        )
        for one in of_day:
            if not one.free:
                assert one.starts_at is not None
                assert (
                    ends <= datetime.combine(slot.on, one.starts_at) or datetime.combine(slot.on, one.ends_at) <= begins
                )
    by_week = [sum((slot.on - MONDAY).days // 7 == n for slot in found) for n in range(8)]
    assert max(by_week) <= a_week


FOUR = free("monday", (16, 0), (16, 30))


@of_each(
    ("week", "at"),
    [
        ([FOUR], {0: time(16)}),  # a lesson of 30 minutes, just as long as there is room
        ([free("monday", (16, 0), (16, 29))], {}),
        ([FOUR, taken("monday", (15, 0), (16, 0)), taken("monday", (16, 30), (17, 0))], {0: time(16)}),
        ([FOUR, taken("monday", (15, 0), (16, 1))], {}),
        ([FOUR, taken("monday", (16, 29), (17, 0))], {}),
        ([FOUR, taken("tuesday", (16, 0), (17, 0))], {0: time(16)}),
        ([free("monday", (18, 0), (19, 0)), FOUR], {0: time(16)}),
        ([FOUR, taken("monday")], {}),
        ([taken("monday", (16, 0), (17, 0))], {}),
    ],
)
def test_the_earliest_hour_that_a_whole_lesson_fits_is_taken(week, at):
    assert starts(lesson(week, sessions_a_week=1)) == at


def test_a_lesson_of_no_known_length_or_number_has_no_hour():
    assert starts(lesson([FOUR], minutes=None)) == starts(lesson([FOUR], sessions_a_week=None)) == {}


@pytest.mark.parametrize(("a_week", "days"), [(1, 1), (2, 2), (5, 5), (7, 7)])
def test_so_many_lessons_a_week_as_are_planned(a_week, days):
    assert len(starts(lesson(EVERY_DAY, sessions_a_week=a_week))) == days
    assert len(starts(lesson(EVERY_DAY[:2], sessions_a_week=a_week))) == min(days, 2)


def test_lessons_go_on_after_the_last_one_held_and_never_before_the_first_day_planned():
    def days(*held: date) -> list[date]:
        rows = tuple(SessionRow(at, on, 3, "left", True) for at, on in enumerate(held, start=2))
        plan = lesson([free("monday", (16, 0), (18, 0)), free("tuesday", (16, 0), (18, 0))], sessions_a_week=2, weeks=1)
        return [slot.on for slot in sessions(case(plan).with_sessions(rows))]

    tuesday = MONDAY + timedelta(1)
    assert days() == days(MONDAY - timedelta(9)) == [MONDAY, tuesday]
    assert days(MONDAY) == days(MONDAY, MONDAY - timedelta(9)) == [tuesday] and days(tuesday) == []


def followed(*visits_planned, delivered=date(2026, 8, 1)):
    return Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "small",
            "dates": {"delivered_on": delivered},
            "follow_up": tuple({"what": "fit"} | visit for visit in visits_planned),
        }
    )


@pytest.mark.parametrize(
    ("visit", "days"),
    [
        ({"after_weeks": 2}, [date(2026, 8, 15)]),
        ({"after_weeks": 2, "every_months": 3}, [date(2026, 8, 15)]),
        (
            {"after_weeks": 2, "every_months": 3, "for_months": 9},
            [date(2026, 8, 15), date(2026, 11, 15), date(2027, 2, 15)],
        ),
        ({"after_weeks": 2, "every_months": 3, "done_on": date(2026, 8, 17)}, [date(2026, 11, 15)]),
        ({"after_weeks": 2, "done_on": date(2026, 8, 17)}, []),
    ],
)
def test_a_visit_that_repeats_has_its_days_until_its_last_month_or_the_next_alone(visit, days):
    assert [on for on, _ in visits(followed(visit))] == days


def test_a_visit_with_a_span_is_late_after_its_last_week():
    case = followed({"after_weeks": 4, "latest_weeks": 6})
    assert (due_on(case, case.follow_up[0]), due_by(case, case.follow_up[0])) == (date(2026, 8, 29), date(2026, 9, 12))


@pytest.mark.parametrize(
    ("visit", "says"),
    [
        ({"after_weeks": 4, "latest_weeks": 2}, "latest_weeks before after_weeks"),
        ({"after_weeks": 4, "for_months": 6}, "for_months and no every_months"),
    ],
)
def test_a_span_upside_down_and_an_end_of_what_does_not_repeat_are_told(visit, says):
    with pytest.raises(ValueError, match=says):
        followed(visit)


@of_each(
    ("planned", "days"),
    [
        ({"every_months": 3, "for_months": 6}, [date(2026, 8, 24), date(2026, 11, 24)]),
        ({"every_months": 3, "for_months": 3}, [date(2026, 8, 24)]),
        ({"every_months": 3}, [date(2026, 8, 24)]),
        ({"every_months": 3, "after_weeks": 0.0, "for_months": 3}, [MONDAY, date(2026, 11, 10)]),  # on the last day too
        ({"every_months": 3, "for_months": 6, "done_on": date(2026, 8, 24)}, [date(2026, 11, 24)]),
        ({"every_months": 3, "for_months": 6, "done_on": date(2026, 8, 23)}, [date(2026, 8, 24), date(2026, 11, 24)]),
    ],
)
def test_a_visit_that_repeats_is_due_to_its_last_month_and_after_the_one_held(planned, days):
    visit = {"after_weeks": 2.0, "what": "fit"} | planned
    delivered = Case.model_validate(
        {"format": "docgen case 1", "id": "x", "dates": {"delivered_on": MONDAY}, "follow_up": (visit,)}
    )
    assert [on for on, _ in visits(delivered)] == days
