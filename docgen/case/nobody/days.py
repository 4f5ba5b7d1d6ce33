"""Days in free text, moved like all days of a case: in the form they are written in, so that intervals stay.

This file holds the forms of a whole day and of a month; day_words.py those in words, of parts of a year and of years.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date, timedelta

from docgen.case.nobody.measures import COUNTED, UNIT
from docgen.case.nobody.months import ALSO_WORDS, MONTHS, NAMES, month_like, month_number
from docgen.case.nobody.spans import Span

_TH = r"(?:st|nd|rd|th)?"
_DAYS = rf"(?P<days>(?:\d{{1,2}}{_TH}(?:, | and | or | to |, and | ?[-\u2013] ?))*)"
_DAY = rf"(?P<day>\d{{1,2}}){_TH}"
_YEAR = r"(?P<year>(?:19|20)\d\d)"
_SHORT_YEAR = r"(?P<year>(?:19|20)\d\d|['\u2019]?\d\d)"
AFTER = r"\b(?:in|since|of|until|till|by|from|for|during|last|next|this|past|early|late|mid|and|to|between|before|after|through|around|about|every)[ -]"
_NO_UNIT = rf"(?!\s?(?:{UNIT}|of)(?![^\W_])|\.\d| (?:{COUNTED})\b)"
# a day and a month with a stroke are a date after such a word; after the second kind, only when they are no common fraction
_WEEKDAY = r"(?:Mon|Tues?|Wed(?:nes)?|Thu(?:rs?)?|Fri|Sat(?:ur)?|Sun)(?:day)?\b\.?"
_SURELY = rf"(?:\b(?:on|since|until|till|dated?|date of|seen|visit(?:ed)?|evaluated|eval|assessed|started|start|due|DOB|D\.O\.B\.?|born|birth(?:day)?|appointment|appt|admitted|discharged|delivered|delivery|signed|received|week of|before|after|starting|ending|through|thru|as of|next|again|note of|film of|follow-?up|am|vom|seit)\b|{_WEEKDAY})[ ,:(]{{1,3}}(?:on )?"
_ALSO = r"(?:\b(?:by|from|between|and|to|for|of|in|at|or)\b|[&\u2013\-])[ ,:(]{0,3}"
_NUMBERED = r"(?P<span>(?P<first>\d{1,2})(?P<by>[/.\-])(?P<second>\d{1,2})(?P<end>\.?))(?![\w/\-]|[.,]\d|\s?%| ?x\b)"
_FORMS: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern, flags), form)
    for pattern, flags, form in (
        (rf"(?<!\d){_YEAR}(?P<by>[-/.])(?P<month>\d{{1,2}})(?P=by)(?P<day>\d{{1,2}})(?!\d)", 0, "numbers"),
        (rf"(?<!\d)(?P<first>\d{{1,2}})(?P<by>\s?[-/.]\s?)(?P<second>\d{{1,2}})(?P=by){_SHORT_YEAR}(?!\d|[/.]\d|-\d{{3}})", 0, "reversed"),
        (rf"\b{_DAY}(?P<by>[-/.]?)(?P<name>{NAMES})(?P=by){_SHORT_YEAR}(?!\w|\s?(?:{UNIT})\b)", re.I, "packed"),
        (rf"\b{_DAY}(?P<by>\.? )(?P<name>{NAMES})\.?(?: )(?P<year>['\u2019]\d\d)\b", re.I, "packed"),
        (rf"\b{_DAY}(?P<by>\. )(?P<name>{NAMES})(?: )(?P<year>(?:19|20)\d\d)\b", re.I, "packed"),
        (rf"\b(?P<name>{NAMES})(?P<by>[-/]){_DAY}(?P=by){_SHORT_YEAR}\b", re.I, "packed"),
        (rf"\b{_DAYS}{_DAY}(?P<join> (?:(?:day )?of )?)(?P<name>{NAMES})\b\.?(?:(?P<comma>,? ){_YEAR}\b)?", re.I, "day_first"),
        (rf"\b(?P<name>{NAMES})\b\.?(?P<join> (?:the )?){_DAY}(?P<more>\s?[-\u2013]\s?\d{{1,2}})?\b(?:(?P<comma>,? ){_YEAR}\b)?(?!\s?(?:mm|cm|m|kg|%|of)\b)", re.I, "month_first"),
        (rf"\b(?P<name>{NAMES})\b\.?(?P<comma>,? (?:of )?|[-/]){_YEAR}\b", re.I, "month_year"),
        (rf"\b(?P<name>{NAMES})\b\.?(?P<comma> )(?P<year>['\u2019]\d\d)\b", re.I, "month_year"),
        (r"(?<![\d/.\-])(?P<month>0?[1-9]|1[0-2])(?P<by>[/.\-])(?P<year>(?:19|20)\d\d)(?!\d|[-/.]\d)", 0, "numbered_month"),
        (r"(?<![\d/.\-])(?P<year>(?:19|20)\d\d)(?P<by>[/.\-])(?P<month>0[1-9]|1[0-2])(?!\d|[-/.]\d)", 0, "year_month"),
        (rf"{_SURELY}{_NUMBERED}", re.I, "stroke"),
        (rf"{_ALSO}{_NUMBERED}(?! of)", re.I, "stroke_in_doubt"),
        (rf"(?:^|{AFTER})(?P<span>(?P<name>{NAMES}))\b", 0, "month"),
        (rf"\b(?P<name>{'|'.join(month for month in MONTHS if month not in ALSO_WORDS)})\b", re.I, "month"),
        (rf"(?:{AFTER})(?P<span>(?P<name>jan|feb|apr|jun|jul|aug|sept?|oct|nov|dec))\b\.?(?! [A-Z])", re.I, "month"),
    )
)  # fmt: skip


def moved_days(text: str, move: timedelta, near: date, unknown: str) -> Iterator[Span]:
    """Every day and month in the text with what takes its place, in the order of how sure they are.

    near     the day nearest to which a month without a year is read
    unknown  what stands for a day so long ago that it tells an age over 89
    """
    for pattern, form in _FORMS:
        for found in pattern.finditer(text):
            try:
                label = _REWRITTEN[form](found, move, near)
            except (ValueError, OverflowError):  # no such day: not a date
                continue
            start, end = found.span("span") if "span" in pattern.groupindex else found.span()
            yield Span(start, end, unknown if too_long_ago(found.groupdict().get("year"), near) else label)


def too_long_ago(year: str | None, near: date) -> bool:
    """Whether a year tells an age over 89 (45 CFR 164.514(b)(2)(i)(C))."""
    return bool(year) and full_year(year or "", near) < near.year - 89


def full_year(year: str, near: date) -> int:
    """2018 of 2018, 18 and '18: of two digits, the century that does not lie more than ten years ahead."""
    number = int(year.lstrip("'\u2019"))
    return number if number > 99 else next(n for n in (2000 + number, 1900 + number) if n <= near.year + 10)


def like_year(written: str, year: int) -> str:
    """A year in the form of another: 2020, 20 or '20."""
    mark = written[0] if written[0] in "'\u2019" else ""
    return f"{mark}{year % 100:02d}" if len(written) - len(mark) == 2 else str(year)


def _numbers(found: re.Match[str], move: timedelta, near: date) -> str:
    day = date(int(found["year"]), int(found["month"]), int(found["day"])) + move
    return f"{day:%Y}{found['by']}{day:%m}{found['by']}{day:%d}"


def _reversed(found: re.Match[str], move: timedelta, near: date) -> str:
    """3/17/2026 with the month first; where that is no month, or with stops between, the day is first."""
    year, first, second = full_year(found["year"], near), int(found["first"]), int(found["second"])
    month_first = "." not in found["by"] and first <= 12
    day = date(year, *((first, second) if month_first else (second, first))) + move
    shown = (day.month, day.day) if month_first else (day.day, day.month)
    return found["by"].join((*map(str, shown), like_year(found["year"], day.year)))


def _packed(found: re.Match[str], move: timedelta, near: date) -> str:
    """17-Mar-26, 17Mar2026, Mar/17/26."""
    day = date(full_year(found["year"], near), month_number(found["name"]), int(found["day"])) + move
    month, year = month_like(found["name"], day), like_year(found["year"], day.year)
    parts = (str(day.day), month, year) if found.start("day") < found.start("name") else (month, str(day.day), year)
    return (" " if " " in found["by"] else found["by"]).join(parts)


def _day_first(found: re.Match[str], move: timedelta, near: date) -> str:
    day = _day(found, int(found["day"]), near) + move

    def other(number: re.Match[str]) -> str:
        before = _day(found, int(number[1]), near) + move
        return f"{before.day}" if before.month == day.month else f"{before.day} {month_like(found['name'], before)}"

    days = re.sub(rf"(\d{{1,2}}){_TH}", other, found["days"])
    return f"{days}{day.day}{found['join']}{month_like(found['name'], day)}" + (
        f"{found['comma']}{day.year}" if found["year"] else ""
    )


def _month_first(found: re.Match[str], move: timedelta, near: date) -> str:
    day = _day(found, int(found["day"]), near) + move
    more = ""
    if found["more"]:
        last = _day(found, int(re.sub(r"\D", "", found["more"])), near) + move
        more = "-" + (f"{last.day}" if last.month == day.month else f"{month_like(found['name'], last)} {last.day}")
    return f"{month_like(found['name'], day)}{found['join']}{day.day}{more}" + (
        f"{found['comma']}{day.year}" if found["year"] else ""
    )


def _month_year(found: re.Match[str], move: timedelta, near: date) -> str:
    day = date(full_year(found["year"], near), month_number(found["name"]), 15) + move
    return f"{month_like(found['name'], day)}{found['comma']}{like_year(found['year'], day.year)}"


def _numbered_month(found: re.Match[str], move: timedelta, near: date) -> str:
    day = date(int(found["year"]), int(found["month"]), 15) + move
    return f"{day:%m}{found['by']}{day:%Y}" if found["month"][0] == "0" else f"{day.month}{found['by']}{day:%Y}"


def _year_month(found: re.Match[str], move: timedelta, near: date) -> str:
    """2026-03; 2011-12 is a school year."""
    if int(found["month"]) == (int(found["year"]) + 1) % 100:
        raise ValueError("a school year, not a month")
    day = date(int(found["year"]), int(found["month"]), 15) + move
    return f"{day:%Y}{found['by']}{day:%m}"


def _stroke(found: re.Match[str], move: timedelta, near: date) -> str:
    """3/17 with the month first, 17.3. with the day first; 17.3 without the last stop is a number."""
    first, second = int(found["first"]), int(found["second"])
    by_stops = found["by"] == "."
    if by_stops != bool(found["end"]) and by_stops:
        raise ValueError("a decimal number")
    month, number = (second, first) if by_stops or first > 12 else (first, second)
    day = nearest(month, number, near) + move
    shown = (day.month, day.day) if (month, number) == (first, second) and not by_stops else (day.day, day.month)
    return found["by"].join(map(str, shown)) + found["end"]


def _stroke_in_doubt(found: re.Match[str], move: timedelta, near: date) -> str:
    """The same after a word that goes before fractions too: those of 5, 10 and 20 stay, and so does a range."""
    if found["by"] != "/" or int(found["second"]) in (2, 3, 4, 5, 6, 8, 10, 20) or found["second"] == found["first"]:
        raise ValueError("may be a fraction")
    return _stroke(found, move, near)


def _month_alone(found: re.Match[str], move: timedelta, near: date) -> str:
    return month_like(found["name"], nearest(month_number(found["name"]), 15, near) + move)


def _day(found: re.Match[str], number: int, near: date) -> date:
    month = month_number(found["name"])
    if not found["year"] and found["name"].capitalize() in ALSO_WORDS and found["name"].islower():
        raise ValueError("a word, not a month")
    return date(int(found["year"]), month, number) if found["year"] else nearest(month, number, near)


def nearest(month: int, number: int, near: date) -> date:
    """The day of that month nearest to `near`. Raises ValueError when no year has it."""
    days = []
    for year in (near.year - 1, near.year, near.year + 1):
        try:
            days.append(date(year, month, number))
        except ValueError:  # 29 February
            continue
    return min(days, key=lambda day: abs(day - near))


_REWRITTEN: dict[str, Callable[[re.Match[str], timedelta, date], str]] = {
    "numbers": _numbers,
    "reversed": _reversed,
    "packed": _packed,
    "day_first": _day_first,
    "month_first": _month_first,
    "month_year": _month_year,
    "numbered_month": _numbered_month,
    "year_month": _year_month,
    "stroke": _stroke,
    "stroke_in_doubt": _stroke_in_doubt,
    "month": _month_alone,
}
