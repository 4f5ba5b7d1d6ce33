"""When someone is there, by the hours that the record has of each person."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import time
from itertools import combinations

from docgen.case.who import Person
from docgen.criteria.sentences import listed

DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_DAY_MIN = 24 * 60
Spans = tuple[tuple[int, int], ...]  # minutes of the day, from and to


def present(person: Person | None) -> Mapping[str, Spans] | None:
    """Day of the week -> when the person is there, in order; hours past midnight are of both days. None where no hours
    are recorded."""
    if person is None or not person.there:
        return None
    spans: dict[str, list[tuple[int, int]]] = {}
    for hours in person.there:
        start, end = minute_of_day(hours.starts_at), minute_of_day(hours.ends_at)
        for day in hours.days or DAYS:
            spans.setdefault(day, []).append((start, end if start < end else _DAY_MIN))
            if start >= end > 0:
                spans.setdefault(DAYS[(DAYS.index(day) + 1) % len(DAYS)], []).append((0, end))
    return {day: tuple(sorted(of_day)) for day, of_day in spans.items()}


def in_words_alone(person: Person | None) -> bool:
    """Whether somebody's hours are told in words and not recorded as hours, so that nothing can be held to them."""
    return person is not None and bool(person.available) and not person.there


def hours_told(person: Person | None) -> str:
    """When somebody is there as a reason tells it: the words of the record, else its hours."""
    if person is None:
        return ""
    hours = (
        f"{listed(map(str.capitalize, entry.days)) or 'every day'}, {entry.starts_at:%H:%M} to {entry.ends_at:%H:%M}"
        for entry in person.there
    )
    return person.available or "; ".join(hours)


def minute_of_day(at: time) -> int:
    return at.hour * 60 + at.minute


def covers(there: Mapping[str, Spans], day: str, start: int, end: int) -> bool:
    """Whether the person is there for all of these minutes."""
    return any(a <= start and end <= b for a, b in there.get(day, ()))


def together(people: Sequence[Person | None], n: int) -> bool | None:
    """Whether some n of these people are ever there at one time; None where somebody's hours are not recorded."""
    there = [present(person) for person in people]
    if any(all(_meet(a, b) for a, b in combinations(group, 2)) for group in combinations([t for t in there if t], n)):
        return True
    return None if None in there and len(people) >= n else False


def _meet(first: Mapping[str, Spans], other: Mapping[str, Spans]) -> bool:
    return any(max(a, c) < min(b, d) for day in first for a, b in first[day] for c, d in other.get(day, ()))
