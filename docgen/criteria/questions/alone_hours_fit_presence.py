"""The hours alone are those in which nobody is there.

Asks: Whether the number of hours that the name of a place alone tells is that of its hours; and whether, by the hours
    of those who help at home, somebody is there in them, or nobody is there outside of them.
Why a payer asks: What is claimed or left open for six hours is worth nothing where they are nine.
What settles it: hours of each place alone in [[supervision]]; there of each caregiver, with starts_at and ends_at, and
    days where it is not every day.
Source: two sides of one record; the time before the first and after the last helper of a day is its night.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.supervision import Supervision
from docgen.criteria.alone import none_alone, places_alone
from docgen.criteria.criterion import Answer, Grounds, met, not_met
from docgen.criteria.present import DAYS, Spans, minute_of_day, present
from docgen.criteria.sentences import capital, counted

HEADING = "record"
CLAIM = "The hours alone are those in which nobody is there"
SHOWN_IN = ("letter: Mobility Limitation and MRADLs in the Home",)
SETTINGS: dict[str, object] = {}
_NUMBERS = "one two three four five six seven eight nine ten eleven twelve".split()
# hours that somebody wrote are held against those of the record: their own sentence is what the letter prints
_TOLD = re.compile(rf"\b(\d{{1,2}}|{'|'.join(_NUMBERS)}) hours?\b", re.IGNORECASE)
_DAY = 24 * 60  # minutes
Wrong = tuple[str, tuple[KeyPath, ...]]


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing_to_ask := none_alone(case):
        return nothing_to_ask
    there = _helpers(case)
    for at, place in places_alone(case):
        for says, where in _wrong(case, at, place, there):
            return not_met(
                f"{capital(place.place)}: {says}.",
                *where,
                mend="Mend the hours of whoever is wrong, and every sentence that rests on them.",
            )
    return met("No hours alone are told otherwise elsewhere in the record.", ("supervision",))


def _wrong_on(day: str, there: Spans, start: int, end: int) -> Iterator[str]:
    """What the hours of who helps on one day tell against being alone from start to end, in minutes of the day."""
    if here := _overlap(there, start, end):
        yield f"on {day.capitalize()} from {_clock(here[0])} to {_clock(here[1])} somebody who helps is there"
    for since, to in _gaps(there):
        if not (start <= since and to <= end):
            yield (
                f"its hours end at {_clock(end)}, and on {day.capitalize()} nobody who helps is there from "
                f"{_clock(since)} to {_clock(to)}"
            )


def _wrong(case: Case, at: int, place: Supervision, there: Mapping[str, Spans] | None) -> Iterator[Wrong]:
    """Each contradiction of a place alone: of its name and its hours, of its hours and those of who helps."""
    in_name, place_at, people = _told_minutes(place), ("supervision", at), _where(case)
    for hours in place.hours:
        start, end = minute_of_day(hours.starts_at), minute_of_day(hours.ends_at)
        length = (end - start) % _DAY
        if in_name and in_name != length:
            yield (
                f"its name tells {_hours(in_name)}, and from {_clock(start)} to {_clock(end)} are {_hours(length)}",
                ((*place_at, "place"), (*place_at, "hours")),
            )
        for day in hours.days if there and start < end else ():
            for says in _wrong_on(day, (there or {}).get(day, ()), start, end):
                yield says, ((*place_at, "hours"), *people)
    if in_name and not place.hours and there:
        gaps = [gap for spans in there.values() for gap in _gaps(spans)]
        if gaps and all(to - since != in_name for since, to in gaps):
            since, to = max(gaps, key=lambda gap: gap[1] - gap[0])
            yield (
                f"its name tells {_hours(in_name)}, and by the hours of those who help nobody is there from "
                f"{_clock(since)} to {_clock(to)}, which are {_hours(to - since)}",
                ((*place_at, "place"), *people),
            )


def _helpers(case: Case) -> Mapping[str, Spans] | None:
    """Day -> when a caregiver is there, in order; None where there is none, or the hours of one are not recorded."""
    each = [present(person) for person in case.with_role("caregiver") if person.available or person.there]
    if not each or any(hours is None for hours in each):
        return None
    return {day: tuple(sorted(span for hours in each if hours for span in hours.get(day, ()))) for day in DAYS}


def _gaps(spans: Spans) -> list[tuple[int, int]]:
    """Minutes of a day between its first and its last helper in which none is there."""
    gaps, until = [], None
    for start, end in spans:
        if until is not None and start > until:
            gaps.append((until, start))
        until = max(until or 0, end)
    return gaps


def _overlap(spans: Spans, start: int, end: int) -> tuple[int, int] | None:
    """The first minutes of these hours in which somebody is there."""
    return next(((max(start, a), min(end, b)) for a, b in spans if max(start, a) < min(end, b)), None)


def _told_minutes(place: Supervision) -> int | None:
    """The hours that the name of a place tells, in minutes."""
    number_told = _TOLD.search(place.place)
    if number_told is None:
        return None
    number = number_told.group(1).casefold()
    return 60 * (int(number) if number.isdigit() else _NUMBERS.index(number) + 1)


def _where(case: Case) -> tuple[KeyPath, ...]:
    return tuple(("people", i, "there") for i, person in enumerate(case.people) if person.role == "caregiver")


def _clock(minute: int) -> str:
    return f"{minute // 60}:{minute % 60:02}"


def _hours(minutes: int) -> str:
    return counted(minutes // 60, "hour", "hours") + (f" {minutes % 60} min" if minutes % 60 else "")
