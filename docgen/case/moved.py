"""Days in free text, moved like all days of a case: in the form they are written in, so that intervals stay."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date, timedelta

from docgen.case.names import Span

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_SHORT = tuple(month[:3] for month in _MONTHS)
_ALSO_WORDS = ("March", "Mar", "May")  # alone, they are a month only after a word such as "in"; small, only with a year
_NAMES = "|".join((*_MONTHS, "Sept", *_SHORT))
_TH = r"(?:st|nd|rd|th)?"
_DAYS = rf"(?P<days>(?:\d{{1,2}}{_TH}(?:, | and | or | to |, and | ?[-\u2013] ?))*)"
_DAY = rf"(?P<day>\d{{1,2}}){_TH}"
_YEAR = r"(?P<year>(?:19|20)\d\d)"
_AFTER = r"\b(?:in|since|of|until|by|from|for|during|last|next|early|late|mid|and|to|between|before|after)[ -]"
_FORMS: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern, flags), form)
    for pattern, flags, form in (
        (rf"\b{_YEAR}(?P<by>[-/.])(?P<month>\d{{1,2}})(?P=by)(?P<day>\d{{1,2}})\b", 0, "numbers"),
        (r"\b(?P<first>\d{1,2})(?P<by>[-/.])(?P<second>\d{1,2})(?P=by)(?P<year>(?:19|20)\d\d|\d\d)\b", 0, "reversed"),
        (rf"\b{_DAYS}{_DAY}(?P<join> (?:of )?)(?P<name>{_NAMES})\b\.?(?:(?P<comma>,? ){_YEAR}\b)?", re.I, "day_first"),
        (
            rf"\b(?P<name>{_NAMES})\b\.?(?P<join> ){_DAY}\b(?:(?P<comma>,? ){_YEAR}\b)?(?!\s?(?:mm|cm|m|kg|%|of)\b)",
            re.I,
            "month_first",
        ),
        (rf"\b(?P<name>{_NAMES})\b\.?(?P<comma>,? (?:of )?){_YEAR}\b", re.I, "month_year"),
        (rf"(?:^|{_AFTER})(?P<span>(?P<name>{_NAMES}))\b", 0, "month"),
        (rf"\b(?P<name>{'|'.join(month for month in _MONTHS if month not in _ALSO_WORDS)})\b", 0, "month"),
        (
            rf"(?:^|{_AFTER})(?P<span>{_YEAR})(?=$|[.,;:)]| (?:and|to|or|until|for|by|with|as|at|when|after|before|in)\b)",
            re.I,
            "year",
        ),
    )
)


def moved_days(text: str, move: timedelta, near: date) -> Iterator[Span]:
    """Every day, month and year in the text with what takes its place, in the order of how sure they are.

    near   the day nearest to which a month without a year is read
    """
    for pattern, form in _FORMS:
        for found in pattern.finditer(text):
            try:
                label = _REWRITTEN[form](found, move, near)
            except (ValueError, OverflowError):  # no such day: not a date
                continue
            start, end = found.span("span") if "span" in pattern.groupindex else found.span()
            yield Span(start, end, label)


def _numbers(found: re.Match[str], move: timedelta, near: date) -> str:
    day = date(int(found["year"]), int(found["month"]), int(found["day"])) + move
    return f"{day:%Y}{found['by']}{day:%m}{found['by']}{day:%d}"


def _reversed(found: re.Match[str], move: timedelta, near: date) -> str:
    """3/17/2026 with the month first; where that is no month, or with stops between, the day is first."""
    year, first, second = int(found["year"]), int(found["first"]), int(found["second"])
    month_first = found["by"] != "." and first <= 12
    day = date(year if year > 99 else 2000 + year, *((first, second) if month_first else (second, first))) + move
    shown = (day.month, day.day) if month_first else (day.day, day.month)
    return found["by"].join((*map(str, shown), f"{day:%Y}" if year > 99 else f"{day:%y}"))


def _day_first(found: re.Match[str], move: timedelta, near: date) -> str:
    day = _day(found, int(found["day"]), near) + move

    def other(number: re.Match[str]) -> str:
        before = _day(found, int(number[1]), near) + move
        return f"{before.day}" if before.month == day.month else f"{before.day} {_month(found, before)}"

    days = re.sub(rf"(\d{{1,2}}){_TH}", other, found["days"])
    return f"{days}{day.day}{found['join']}{_month(found, day)}" + (
        f"{found['comma']}{day.year}" if found["year"] else ""
    )


def _month_first(found: re.Match[str], move: timedelta, near: date) -> str:
    day = _day(found, int(found["day"]), near) + move
    return f"{_month(found, day)}{found['join']}{day.day}" + (f"{found['comma']}{day.year}" if found["year"] else "")


def _month_year(found: re.Match[str], move: timedelta, near: date) -> str:
    day = date(int(found["year"]), _number(found["name"]), 15) + move
    return f"{_month(found, day)}{found['comma']}{day.year}"


def _month_alone(found: re.Match[str], move: timedelta, near: date) -> str:
    return _month(found, _nearest(_number(found["name"]), 15, near) + move)


def _year(found: re.Match[str], move: timedelta, near: date) -> str:
    return str((date(int(found["year"]), 7, 1) + move).year)


def _day(found: re.Match[str], number: int, near: date) -> date:
    month = _number(found["name"])
    if not found["year"] and found["name"].capitalize() in _ALSO_WORDS and found["name"].islower():
        raise ValueError("a word, not a month")
    return date(int(found["year"]), month, number) if found["year"] else _nearest(month, number, near)


def _nearest(month: int, number: int, near: date) -> date:
    """The day of that month nearest to `near`. Raises ValueError when no year has it."""
    days = []
    for year in (near.year - 1, near.year, near.year + 1):
        try:
            days.append(date(year, month, number))
        except ValueError:  # 29 February
            continue
    return min(days, key=lambda day: abs(day - near))


def _number(name: str) -> int:
    return _SHORT.index(name[:3].capitalize()) + 1


def _month(found: re.Match[str], day: date) -> str:
    name = found["name"]
    shown = _SHORT[day.month - 1] if len(name) < 5 and name.capitalize() not in _MONTHS else _MONTHS[day.month - 1]
    return shown.upper() if name.isupper() else shown


_REWRITTEN: dict[str, Callable[[re.Match[str], timedelta, date], str]] = {
    "numbers": _numbers,
    "reversed": _reversed,
    "day_first": _day_first,
    "month_first": _month_first,
    "month_year": _month_year,
    "month": _month_alone,
    "year": _year,
}
