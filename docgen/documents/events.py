"""The calendar of a case: sessions to come and follow-ups, in words that name nobody."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from uuid import UUID, uuid5

from docgen.case.model import Case
from docgen.case.training import FollowUp
from docgen.documents.phrase import Words
from docgen.evidence.training import stage_now
from docgen.fit.schedule import sessions, visits
from docgen.rendering.ics import Event, calendar_bytes
from docgen.rendering.page import NO_DATE


def events(case: Case, words: Words, key: str) -> tuple[Event, ...]:
    """Every session planned and every follow-up due, soonest first; a calendar is passed around, so no name stands in
    it.

    key  of the case, 32 hexadecimal digits: what it is known by in a calendar that has it already
    """
    patterns, stage = words["calendar"], stage_now(case)
    stage_words = "" if stage is None else patterns["says"].format(name=words["figures"]["ladder_names"][stage])
    lessons = [
        Event(
            _uid(key, "session", slot.on),
            datetime.combine(slot.on, slot.starts_at),
            patterns["session"],
            slot.minutes,
            case.training.place or "",
            stage_words,
        )
        for slot in sessions(case)
    ]
    due = [
        Event(
            _uid(key, f"visit {visit.after_weeks:g}", on),
            on,
            patterns["visit"].format(weeks=_weeks(case, visit, on)),
            says=visit.what,
        )
        for on, visit in visits(case)
    ]
    return tuple(sorted([*lessons, *due], key=lambda event: (f"{event.on:%Y-%m-%d}", event.uid)))


def _weeks(case: Case, visit: FollowUp, on: date) -> str:
    """Weeks from delivery to a visit: as planned, or of one that repeats to the nearest week."""
    delivered = case.dates.delivered_on
    if visit.every_months is None or delivered is None:
        return f"{visit.after_weeks:g}"
    return str(round((on - delivered).days / 7))


def calendar_file(case: Case, words: Words, key: str) -> bytes | None:
    """The calendar file; None when nothing has a day. `key` as of `events`."""
    dated = events(case, words, key)
    if not dated or case.training.zone is None:
        return None
    settled = case.dates.written_on or case.request.requested_on or NO_DATE
    return calendar_bytes(dated, case.training.zone, datetime.combine(settled, time(), UTC), words["calendar"]["name"])


def _uid(key: str, what: str, on: date) -> str:
    """The same for the same case, event and day; from the random key alone, so that no guess of a name can be tried on
    it."""
    return str(uuid5(UUID(key), f"{what} {on}"))
