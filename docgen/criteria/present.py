"""When someone is there, as far as the words of `available` say it in hours: "school days, 08:30 to 15:00"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import time
from itertools import combinations

from docgen.case.who import Person

DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_SPAN = re.compile(r"\b([01]?\d|2[0-3]):([0-5]\d) to ([01]?\d|2[0-4]):([0-5]\d)\b")
_WEEK = re.compile(r"\b(work|school|week)[ -]?days\b", re.IGNORECASE)
Spans = tuple[tuple[int, int], ...]  # minutes of the day, from and to


def present(person: Person | None) -> Mapping[str, Spans] | None:
    """Day of the week -> when the person is there; None where the words name no hours or no days that are known."""
    text = (person.available if person else None) or ""
    spans = tuple((int(a) * 60 + int(b), int(c) * 60 + int(d)) for a, b, c, d in _SPAN.findall(text))
    if not spans:
        return None
    if _WEEK.search(text):
        return dict.fromkeys(DAYS[:5], spans)
    if re.search(r"\bevery day\b", text, re.IGNORECASE):
        return dict.fromkeys(DAYS, spans)
    named = [day for day in DAYS if re.search(rf"\b{day}s?\b", text, re.IGNORECASE)]
    return dict.fromkeys(named, spans) if named else None


def minute_of_day(at: time) -> int:
    return at.hour * 60 + at.minute


def covers(there: Mapping[str, Spans], day: str, start: int, end: int) -> bool:
    """Whether the person is there for all of these minutes."""
    return any(a <= start and end <= b for a, b in there.get(day, ()))


def together(people: Sequence[Person | None], n: int) -> bool | None:
    """Whether some n of these people are ever there at one time; None where their words do not say."""
    there = [present(person) for person in people]
    if any(all(_meet(a, b) for a, b in combinations(group, 2)) for group in combinations([t for t in there if t], n)):
        return True
    return None if None in there and len(people) >= n else False


def _meet(first: Mapping[str, Spans], other: Mapping[str, Spans]) -> bool:
    return any(max(a, c) < min(b, d) for day in first for a, b in first[day] for c, d in other.get(day, ()))
