"""Events as a calendar file (iCalendar, RFC 5545) that phones and calendars can open.

Hours are local hours on the wall with the rules of their time zone, so a change to or from summer time does not move
them. The same events give the same bytes: nothing here reads a clock or draws a random number.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from msgspec import Struct


class Event(Struct, frozen=True):
    """One event.

    uid      the same for the same event each time the file is made
    on       its day, or its local day and hour
    minutes  length; None for a day without an hour
    """

    uid: str
    on: date | datetime
    summary: str
    minutes: float | None = None
    place: str = ""
    says: str = ""


def calendar_bytes(events: Sequence[Event], zone: str, stamp: datetime, name: str) -> bytes:
    """The calendar file.

    zone   name of the time zone of the hours
    stamp  when the events were settled, in UTC
    name   shown as the name of the calendar
    """
    from icalendar import Calendar, Timezone
    from icalendar import Event as Entry

    calendar = Calendar()
    calendar.add("prodid", "-//docgen//training//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", name)
    hours = [event.on for event in events if isinstance(event.on, datetime)]
    if hours:
        first, last = min(hours).date(), max(hours).date()
        calendar.add_component(
            Timezone.from_tzid(zone, first_date=first - timedelta(days=370), last_date=last + timedelta(days=370))
        )
    for event in events:
        entry = Entry()
        entry.add("uid", event.uid)
        entry.add("dtstamp", stamp)
        entry.add("summary", event.summary)
        if isinstance(event.on, datetime):
            start = event.on.replace(tzinfo=ZoneInfo(zone))
            entry.add("dtstart", start)
            entry.add("dtend", start + timedelta(minutes=event.minutes or 0))
        else:
            entry.add("dtstart", event.on)
            entry.add("dtend", event.on + timedelta(days=1))
            entry.add("transp", "TRANSPARENT")
        if event.place:
            entry.add("location", event.place)
        if event.says:
            entry.add("description", event.says)
        calendar.add_component(entry)
    return bytes(calendar.to_ical())
