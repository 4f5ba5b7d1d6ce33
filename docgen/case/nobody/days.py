"""Days in free text, moved like all days of a case: in the form they are written in, so that intervals stay.

This file holds the forms of a whole day and of a month; day_words.py those in words, of parts of a year and of years.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date, timedelta

from docgen.case.nobody.measures import COUNTED, UNIT
from docgen.case.nobody.spans import Span
from docgen.months import ALSO_WORDS, MONTHS, NAMES, month_like, month_number

_TH = r"(?:st|nd|rd|th)?"
_DAYS = rf"(?P<days>(?:\d{{1,2}}{_TH}(?:, | and | or | to |, and | ?[-\u2013] ?)){{0,31}})"
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


def compiled(*forms: tuple[str, int, str]) -> tuple[tuple[re.Pattern[str], str], ...]:
    """Each pattern with its flags compiled, and the name of the form of a day that it finds."""
    return tuple((re.compile(pattern, flags), form) for pattern, flags, form in forms)


_FORMS = compiled(
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
)  # fmt: skip


def moved_days(text: str, move: timedelta, near: date, unknown: str) -> Iterator[Span]:
    """Every day and month in the text with what takes its place, in the order of how sure they are.

    near     the day nearest to which a month without a year is read
    unknown  what stands for a day so long ago that it tells an age over 89
    """
    for pattern, form in _FORMS:
        for match in pattern.finditer(text):
            try:
                label = _REWRITTEN[form](match, move, near)
            except (ValueError, OverflowError):  # no such day: not a date
                continue
            start, end = match.span("span") if "span" in pattern.groupindex else match.span()
            yield Span(start, end, unknown if too_long_ago(match.groupdict().get("year"), near) else label)


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


def _numbers(match: re.Match[str], move: timedelta, near: date) -> str:
    day = date(int(match["year"]), int(match["month"]), int(match["day"])) + move
    return f"{day:%Y}{match['by']}{day:%m}{match['by']}{day:%d}"


def _reversed(match: re.Match[str], move: timedelta, near: date) -> str:
    """3/17/2026 with the month first; where that is no month, or with stops between, the day is first."""
    year, first, second = full_year(match["year"], near), int(match["first"]), int(match["second"])
    month_first = "." not in match["by"] and first <= 12
    day = date(year, *((first, second) if month_first else (second, first))) + move
    shown = (day.month, day.day) if month_first else (day.day, day.month)
    return match["by"].join((*map(str, shown), like_year(match["year"], day.year)))


def _packed(match: re.Match[str], move: timedelta, near: date) -> str:
    """17-Mar-26, 17Mar2026, Mar/17/26."""
    day = date(full_year(match["year"], near), month_number(match["name"]), int(match["day"])) + move
    month, year = month_like(match["name"], day), like_year(match["year"], day.year)
    parts = (str(day.day), month, year) if match.start("day") < match.start("name") else (month, str(day.day), year)
    return (" " if " " in match["by"] else match["by"]).join(parts)


def _day_first(match: re.Match[str], move: timedelta, near: date) -> str:
    day = _day(match, int(match["day"]), near) + move

    def other(number: re.Match[str]) -> str:
        before = _day(match, int(number[1]), near) + move
        return f"{before.day}" if before.month == day.month else f"{before.day} {month_like(match['name'], before)}"

    days = re.sub(rf"(\d{{1,2}}){_TH}", other, match["days"])
    return f"{days}{day.day}{match['join']}{month_like(match['name'], day)}" + (
        f"{match['comma']}{day.year}" if match["year"] else ""
    )


def _month_first(match: re.Match[str], move: timedelta, near: date) -> str:
    day = _day(match, int(match["day"]), near) + move
    more = ""
    if match["more"]:
        last = _day(match, int(re.sub(r"\D", "", match["more"])), near) + move
        more = "-" + (f"{last.day}" if last.month == day.month else f"{month_like(match['name'], last)} {last.day}")
    return f"{month_like(match['name'], day)}{match['join']}{day.day}{more}" + (
        f"{match['comma']}{day.year}" if match["year"] else ""
    )


def _month_year(match: re.Match[str], move: timedelta, near: date) -> str:
    day = date(full_year(match["year"], near), month_number(match["name"]), 15) + move
    return f"{month_like(match['name'], day)}{match['comma']}{like_year(match['year'], day.year)}"


def _numbered_month(match: re.Match[str], move: timedelta, near: date) -> str:
    day = date(int(match["year"]), int(match["month"]), 15) + move
    return f"{day:%m}{match['by']}{day:%Y}" if match["month"][0] == "0" else f"{day.month}{match['by']}{day:%Y}"


def _year_month(match: re.Match[str], move: timedelta, near: date) -> str:
    """2026-03; 2011-12 is a school year."""
    if int(match["month"]) == (int(match["year"]) + 1) % 100:
        raise ValueError("a school year, not a month")
    day = date(int(match["year"]), int(match["month"]), 15) + move
    return f"{day:%Y}{match['by']}{day:%m}"


def _stroke(match: re.Match[str], move: timedelta, near: date) -> str:
    """3/17 with the month first, 17.3. with the day first; 17.3 without the last stop is a number."""
    first, second = int(match["first"]), int(match["second"])
    by_stops = match["by"] == "."
    if by_stops != bool(match["end"]) and by_stops:
        raise ValueError("a decimal number")
    month, number = (second, first) if by_stops or first > 12 else (first, second)
    day = nearest(month, number, near) + move
    shown = (day.month, day.day) if (month, number) == (first, second) and not by_stops else (day.day, day.month)
    return match["by"].join(map(str, shown)) + match["end"]


def _stroke_in_doubt(match: re.Match[str], move: timedelta, near: date) -> str:
    """The same after a word that goes before fractions too: those of 5, 10 and 20 stay, and so does a range."""
    if match["by"] != "/" or int(match["second"]) in (2, 3, 4, 5, 6, 8, 10, 20) or match["second"] == match["first"]:
        raise ValueError("may be a fraction")
    return _stroke(match, move, near)


def _month_alone(match: re.Match[str], move: timedelta, near: date) -> str:
    return month_like(match["name"], nearest(month_number(match["name"]), 15, near) + move)


def _day(match: re.Match[str], number: int, near: date) -> date:
    month = month_number(match["name"])
    if not match["year"] and match["name"].capitalize() in ALSO_WORDS and match["name"].islower():
        raise ValueError("a word, not a month")
    return date(int(match["year"]), month, number) if match["year"] else nearest(month, number, near)


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
