"""Events as a calendar file (iCalendar, RFC 5545) that phones and calendars can open.

Hours are local hours on the wall with the rules of their time zone, so a change to or from summer time does not move
them. The same events give the same bytes: nothing here reads a clock or draws a random number.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from msgspec import Struct

_AROUND = timedelta(days=370)  # before the first hour and after the last one the rules of the zone are told
_DAY, _SECOND = timedelta(days=1), timedelta(seconds=1)
_LONGEST_LINE = 74  # bytes; RFC 5545, 3.1 asks for no more than 75
_ESCAPES = (("\\", "\\\\"), (";", r"\;"), (",", r"\,"), ("\r\n", r"\n"), ("\n", r"\n"), ("\r", r"\n"))


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
    hours = [event.on for event in events if isinstance(event.on, datetime)]
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//docgen//training//EN",
        f"X-WR-CALNAME:{_text(name)}",
        *(_zone_lines(zone, min(hours).date() - _AROUND, max(hours).date() + _AROUND) if hours else ()),
        *(line for event in events for line in _event_lines(event, zone, stamp)),
        "END:VCALENDAR",
    ]
    return "".join(f"{_folded(line)}\r\n" for line in lines).encode()


def _event_lines(event: Event, zone: str, stamp: datetime) -> list[str]:
    if isinstance(event.on, datetime):
        end = event.on + timedelta(minutes=event.minutes or 0)
        span = [f"DTSTART;TZID={zone}:{_hour(event.on)}", f"DTEND;TZID={zone}:{_hour(end)}"]
        whole_day = []
    else:
        span = [f"DTSTART;VALUE=DATE:{event.on:%Y%m%d}", f"DTEND;VALUE=DATE:{event.on + _DAY:%Y%m%d}"]
        whole_day = ["TRANSP:TRANSPARENT"]
    return [
        "BEGIN:VEVENT",
        f"SUMMARY:{_text(event.summary)}",
        *span,
        f"DTSTAMP:{_hour(stamp)}Z",
        f"UID:{_text(event.uid)}",
        *([f"DESCRIPTION:{_text(event.says)}"] if event.says else ()),
        *([f"LOCATION:{_text(event.place)}"] if event.place else ()),
        *whole_day,
        "END:VEVENT",
    ]


class _Rule(Struct, frozen=True):
    """One rule of a zone: hours ahead of UTC before and while it holds, its name, and whether it is summer time."""

    before: timedelta
    ahead: timedelta
    name: str
    summer: bool


def _zone_lines(zone: str, first: date, last: date) -> list[str]:
    """The rules of a zone between two days (RFC 5545, 3.6.5)."""
    lines = ["BEGIN:VTIMEZONE", f"TZID:{zone}", f"COMMENT:This timezone only works from {first} to {last}."]
    for rule, starts in _rules(ZoneInfo(zone), first, last).items():
        kind = "DAYLIGHT" if rule.summer else "STANDARD"
        lines += [f"BEGIN:{kind}", f"DTSTART:{_hour(starts[0])}"]
        if starts[1:]:
            lines.append(f"RDATE:{','.join(map(_hour, starts[1:]))}")
        lines += [
            f"TZNAME:{_text(rule.name)}",
            f"TZOFFSETFROM:{_offset(rule.before)}",
            f"TZOFFSETTO:{_offset(rule.ahead)}",
            f"END:{kind}",
        ]
    return [*lines, "END:VTIMEZONE"]


def _rules(zone: ZoneInfo, first: date, last: date) -> dict[_Rule, list[datetime]]:
    """Each rule that holds between two days, with the hours at which it begins, as clocks show them that have not been
    changed yet."""
    begun = datetime.combine(first, time(), zone).astimezone(UTC)
    ended = datetime.combine(last, time(), zone).astimezone(UTC)
    begins: dict[_Rule, list[datetime]] = {}
    before = _ahead(begun, zone)
    for moment in (begun, *_changes(zone, begun, ended)):
        local = moment.astimezone(zone)
        ahead = _ahead(moment, zone)
        rule = _Rule(before, ahead, local.tzname() or "", bool(local.dst()))
        begins.setdefault(rule, []).append(moment + before)
        before = ahead
    return begins


def _changes(zone: ZoneInfo, begun: datetime, ended: datetime) -> Iterator[datetime]:
    """Each moment between two, in UTC, at which clocks of the zone are changed."""
    while begun < ended:
        later = begun + _DAY
        if _ahead(later, zone) != _ahead(begun, zone):
            unchanged, changed = begun, later
            while changed - unchanged > _SECOND:
                middle = unchanged + (changed - unchanged) // 2 // _SECOND * _SECOND
                if _ahead(middle, zone) == _ahead(begun, zone):
                    unchanged = middle
                else:
                    changed = middle
            yield changed
        begun = later


def _ahead(moment: datetime, zone: ZoneInfo) -> timedelta:
    """How far the zone is ahead of UTC at a moment."""
    return moment.astimezone(zone).utcoffset() or timedelta()


def _hour(moment: datetime) -> str:
    return f"{moment:%Y%m%dT%H%M%S}"


def _offset(ahead: timedelta) -> str:
    """A time ahead of UTC as +hhmm, with seconds where it has some."""
    minutes, seconds = divmod(abs(ahead) // _SECOND, 60)
    sign = "-" if ahead < timedelta() else "+"
    return f"{sign}{minutes // 60:02}{minutes % 60:02}" + (f"{seconds:02}" if seconds else "")


def _text(words: str) -> str:
    """Words as a value of kind TEXT (RFC 5545, 3.3.11)."""
    for plain, escaped in _ESCAPES:
        words = words.replace(plain, escaped)
    return words


def _folded(line: str) -> str:
    """A line broken after so many bytes, never inside a character, nor between a backslash and what it escapes."""
    pieces, piece = list[str](), ""
    for character in re.findall(r"\\.|[^\\]|\\", line):
        if len(f"{piece}{character}".encode()) > _LONGEST_LINE:
            pieces.append(piece)
            piece = ""
        piece += character
    return "\r\n ".join([*pieces, piece])
