"""The calendar of a case: sessions to come and follow-ups, in words that name nobody."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from uuid import UUID, uuid5

from docgen.case.model import Case
from docgen.documents.phrase import Words
from docgen.evidence.training import stage_now
from docgen.fit.schedule import sessions, visits
from docgen.rendering.ics import Event, calendar_bytes
from docgen.rendering.page import NO_DATE

_OURS = UUID("5c0a4c43-6c5e-5d5b-9a53-0d7f4b7a6b11")  # our own, drawn once; it tells nothing of the case


def events(case: Case, words: Words) -> tuple[Event, ...]:
    """Every session planned and every follow-up due, soonest first; a calendar is passed around, so no name stands in it."""
    said, stage = words["calendar"], stage_now(case)
    told = "" if stage is None else said["says"].format(stage=stage, name=words["figures"]["ladder_names"][stage])
    found = [
        Event(
            _uid(case, "session", slot.on),
            datetime.combine(slot.on, slot.starts_at),
            said["session"],
            slot.minutes,
            case.training.place or "",
            told,
        )
        for slot in sessions(case)
    ]
    due = [
        Event(
            _uid(case, f"visit {visit.after_weeks:g}", on),
            on,
            said["visit"].format(weeks=f"{visit.after_weeks:g}"),
            says=visit.what,
        )
        for on, visit in visits(case)
    ]
    return tuple(sorted([*found, *due], key=lambda event: (f"{event.on:%Y-%m-%d}", event.uid)))


def calendar_file(case: Case, words: Words) -> bytes | None:
    """The calendar file; None when nothing has a day."""
    found = events(case, words)
    if not found or case.training.zone is None:
        return None
    settled = case.dates.written_on or case.request.requested_on or NO_DATE
    return calendar_bytes(found, case.training.zone, datetime.combine(settled, time(), UTC), words["calendar"]["name"])


def _uid(case: Case, what: str, on: date) -> str:
    """The same for the same case, event and day; it cannot be read back."""
    return str(uuid5(_OURS, f"{case.id} {what} {on}"))
