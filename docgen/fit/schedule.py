"""Days and hours of the sessions to come, from the coach's week: never on a day or in hours that are taken."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta
from itertools import combinations, count, product

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.stage import STAGES, STOP_TASKS, tasks_of
from docgen.case.training import Day, FollowUp, Hours, Lesson
from docgen.evidence.training import stage_now, stops_standing, walked
from docgen.months import months_later

DAYS: tuple[Day, ...] = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_NEEDED = ("start_on", "sessions_a_week", "minutes", "weeks", "zone")


class Slot(Struct, frozen=True):
    """One session to come: its day, the local hour on the wall, and its length."""

    on: date
    starts_at: time
    minutes: float


def lacking(lesson: Lesson) -> tuple[str, ...]:
    """Keys of [training] without which no session has a day; empty when nothing is missing."""
    missing = tuple(name for name in _NEEDED if getattr(lesson, name) is None)
    return missing if any(hours.free for hours in lesson.week) else (*missing, "week")


def starts(lesson: Lesson) -> dict[int, time]:
    """Weekday (0 is Monday) -> the earliest hour at which a whole session fits, chosen and spread over the week.

    Of the days that have room, as many as there are sessions a week, with the shortest gap between two of them as
    long as it can be; one session a day. Fewer when the week has no more room.
    """
    if lesson.minutes is None or lesson.sessions_a_week is None:
        return {}
    room = {
        weekday: at
        for weekday, name in enumerate(DAYS)
        if (at := _earliest([hours for hours in lesson.week if hours.day == name], lesson.minutes)) is not None
    }
    n = min(lesson.sessions_a_week, len(room))
    chosen = max(combinations(sorted(room), n), key=_shortest_gap, default=())
    return {weekday: room[weekday] for weekday in chosen}


def people_wanted(case: Case) -> tuple[tuple[str, ...], ...]:
    """Who must be there in each session: groups of people by id, one of which is enough; empty where one person is.

    Only where every task that is open at the step takes more than one; else another task is trained meanwhile.
    """
    places = [place for place in case.supervision if not place.is_later and (place.needs or 1) > 1]
    for_each = [next((place for place in places if task in place.covers), None) for task in _open_tasks(case)]
    wanted = [place for place in for_each if place is not None]
    if not for_each or len(wanted) < len(for_each):
        return ()
    hardest = max(wanted, key=lambda place: place.needs or 1)
    return tuple(combinations(hardest.who, hardest.needs or 1)) or ((),)


def _open_tasks(case: Case) -> list[str]:
    """Tasks of the step that is trained now that are not mastered yet, stops aside; none where no step is."""
    now = stage_now(case)
    if now is None:
        return []
    walk = walked(case)
    tasks = [task for task in tasks_of(STAGES[now], case) if task not in STOP_TASKS]
    return [task for task in tasks if walk is None or task not in walk.mastered]


def lesson_of(case: Case) -> Lesson:
    """The lessons as they can be planned: where two people are needed, only the hours at which both can be there."""
    lesson, groups = case.training, people_wanted(case)
    if not groups:
        return lesson
    week = (hours for group in groups for hours in _together(lesson, group))
    return lesson.model_copy(update={"week": (*week, *(hours for hours in lesson.week if not hours.free))})


def _together(lesson: Lesson, people: tuple[str, ...]) -> Iterator[Hours]:
    """Free hours that all of these people share; hours of nobody by name are the coach's."""
    for day in DAYS if people else ():
        spans = [
            [
                (hours.starts_at, hours.ends_at)
                for hours in lesson.week
                if hours.free and hours.day == day and (hours.who or lesson.coach) == person
                if hours.starts_at is not None and hours.ends_at is not None
            ]
            for person in people
        ]
        for chosen in product(*spans):
            first, last = max(start for start, _ in chosen), min(end for _, end in chosen)
            if first < last:
                yield Hours(day=day, free=True, starts_at=first, ends_at=last)


def sessions(case: Case) -> tuple[Slot, ...]:
    """Every session planned and not yet held; none while something that gives it a day is missing.

    None either while a stop rule of training stands that nobody has cleared, or where everything open takes two people
    and no hours are known at which both can be there.
    They lie in the weeks from training.start_on on, after the last session recorded, on no day in taken_on.
    """
    lesson = lesson_of(case)
    if (
        lacking(lesson)
        or lesson.start_on is None
        or lesson.weeks is None
        or lesson.minutes is None
        or stops_standing(case)
    ):
        return ()
    at = starts(lesson)
    end = lesson.start_on + timedelta(weeks=lesson.weeks)
    last_session = max((row.date for row in case.sessions), default=None)
    first = lesson.start_on if last_session is None else max(lesson.start_on, last_session + timedelta(days=1))
    days = (first + timedelta(days=n) for n in range((end - first).days))
    return tuple(
        Slot(on, at[on.weekday()], lesson.minutes) for on in days if on.weekday() in at and on not in lesson.taken_on
    )


def due_on(case: Case, visit: FollowUp) -> date | None:
    """The day of a follow-up, of one that repeats the next after it was last held; None before delivery is recorded, or
    when no more is planned."""
    return next(_days(case, visit), None)


def due_by(case: Case, visit: FollowUp) -> date | None:
    """The last day for a follow-up: that of its span where one is planned, else its day."""
    delivered, latest = case.dates.delivered_on, visit.latest_weeks
    if delivered is None or latest is None or visit.every_months is not None:
        return due_on(case, visit)
    return delivered + timedelta(days=round(latest * 7))


def visits(case: Case) -> Iterator[tuple[date, FollowUp]]:
    """The day of each follow-up that was not yet held; none before delivery is recorded.

    Of one that repeats every day until its last month, and the next alone where no last month is recorded.
    """
    for visit in case.follow_up:
        if visit.is_open:
            yield from ((day, visit) for day in _days(case, visit))


def _days(case: Case, visit: FollowUp) -> Iterator[date]:
    delivered = case.dates.delivered_on
    if delivered is None:
        return
    first = delivered + timedelta(days=round(visit.after_weeks * 7))
    if visit.every_months is None:
        yield first
        return
    last = months_later(delivered, visit.for_months) if visit.for_months is not None else None
    for n in count():
        on = months_later(first, n * visit.every_months)
        if last is not None and on > last:
            return
        if visit.done_on is None or on > visit.done_on:
            yield on
            if last is None:
                return


def _earliest(week: Iterable[Hours], minutes: float) -> time | None:
    """Earliest hour of a day's free hours from which `minutes` are free of all taken ones."""
    week = list(week)
    if any(not hours.free and (hours.starts_at is None or hours.ends_at is None) for hours in week):
        return None
    taken, free = (
        [
            (hours.starts_at, hours.ends_at)
            for hours in week
            if hours.free is kind and hours.starts_at is not None and hours.ends_at is not None
        ]
        for kind in (False, True)
    )
    candidates = sorted([start for start, _ in free] + [end for _, end in taken])
    return next((at for at in candidates if _fits(at, minutes, free, taken)), None)


def _fits(at: time, minutes: float, free: list[tuple[time, time]], taken: list[tuple[time, time]]) -> bool:
    day = date(2000, 1, 3)
    start = datetime.combine(day, at)
    end = start + timedelta(minutes=minutes)
    inside = any(datetime.combine(day, a) <= start and end <= datetime.combine(day, b) for a, b in free)
    return inside and not any(datetime.combine(day, a) < end and start < datetime.combine(day, b) for a, b in taken)


def _shortest_gap(days: tuple[int, ...]) -> int:
    """Days between the two nearest sessions, over the end of the week as well."""
    return min(((later - day) % 7 or 7 for day, later in zip(days, (*days[1:], *days[:1]), strict=True)), default=0)
