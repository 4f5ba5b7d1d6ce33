"""Days as people write them, in English, German, French and Spanish; an order that several dates leave open is asked.

The names of months are those of docgen/months.py.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from datetime import date, timedelta
from typing import Literal

from docgen.months import MONTH

Order = Literal["day first", "month first", "year first"]
ORDERS: tuple[Order, ...] = ("day first", "month first", "year first")
FIRST_YEAR, LAST_YEAR = 1990, 2099
_NUMBERS = re.compile(r"(\d{1,4})\s*[./\- ]\s*(\d{1,2})\s*[./\- ]\s*(\d{1,4})\.?$")
_NAMED = (
    re.compile(
        r"(?P<day>\d{1,2})(?:st|nd|rd|th|er|\.)?[\s\-./]*(?:(?:de|of)\s+)?(?P<month>[^\W\d_]+)[\s\-./,]*"
        r"(?:del?\s+)?(?P<year>\d{4})$"
    ),
    re.compile(r"(?P<month>[^\W\d_]+)\.?\s*(?P<day>\d{1,2})(?:st|nd|rd|th)?[\s,]+(?P<year>\d{4})$"),
    re.compile(r"(?P<year>\d{4})[\s\-./]+(?P<month>[^\W\d_]+)[\s\-./]+(?P<day>\d{1,2})$"),
)
_WEEKDAY = re.compile(
    r"^(?:mon|tue|wed|thu|fri|sat|sun|mo|di|mi|do|fr|sa|so|lun|mar|mer|jeu|ven|sam|dim|mie|jue|vie|sab|dom)"
    r"[^\W\d_]*[.,]*\s+(?=\d|[^\W\d_]+\.?\s*\d)",
)
_CLOCK = re.compile(r"[T ]+\d{1,2}:\d{2}(:\d{2})?(\.\d+)?(\s*[ap]m)?(Z|[+-]\d\d:?\d\d)?$", re.I)
_EXCEL_DAY_0 = date(1899, 12, 30)


def plain(text: str) -> str:
    """The text in small letters without marks and outer space, and without a time of day behind it."""
    bare = "".join(c for c in unicodedata.normalize("NFKD", text.casefold()) if unicodedata.category(c) != "Mn")
    return _CLOCK.sub("", bare.strip()).strip()


def orders_of(text: str, first_year: int = FIRST_YEAR) -> dict[Order, date]:
    """Every day that a text can mean, by the order it is then written in; a month in words leaves one order.

    first_year  the first that can be meant: of trials, that of the days on which there were any
    """
    whole = plain(text)
    for bare in dict.fromkeys((whole, _WEEKDAY.sub("", whole, count=1))):
        if match := _NUMBERS.match(bare):
            return _by_orders(match.group(1), match.group(2), match.group(3), first_year)
        for form in _NAMED:
            if (match := form.match(bare)) and (month := MONTH.get(match["month"])):
                day = _day(int(match["year"]), month, int(match["day"]), first_year)
                return dict.fromkeys(ORDERS, day) if day else {}
    return {}


def _by_orders(first: str, second: str, third: str, first_year: int) -> dict[Order, date]:
    """The days that three numbers can mean; a year of four digits says where it stands."""
    ways: list[tuple[Order, str, str, str]] = []  # order, year, month, day
    if len(first) == 4:
        ways = [("year first", first, second, third)]  # nobody writes year-day-month
    elif len(first) < 3 and len(third) == 4:
        ways = [("day first", third, second, first), ("month first", third, first, second)]
    elif len(first) < 3 and len(third) == 2:
        ways = [
            ("day first", third, second, first),
            ("month first", third, first, second),
            ("year first", first, second, third),
        ]
    days = {order: _day(_century(year), int(month), int(of_month), first_year) for order, year, month, of_month in ways}
    return {order: on for order, on in days.items() if on}


def _century(year: str) -> int:
    return int(year) if len(year) == 4 else 2000 + int(year)


def _day(year: int, month: int, day: int, first_year: int) -> date | None:
    try:
        return date(year, month, day) if first_year <= year <= LAST_YEAR else None
    except ValueError:
        return None


def settled(texts: Iterable[str]) -> tuple[dict[str, date], list[Order], str]:
    """What the texts of one column mean together: the days told, the orders that stay open, and the text that decided.

    One column has one order: a text that fits a single one settles the others. Where two orders fit every text and give
    one of them another day, both stay open: the order is then to be asked.
    """
    readings = {text: orders_of(text) for text in texts}
    readable = {text: ways for text, ways in readings.items() if ways}
    fitting = [
        order for order in ORDERS if all(order in ways or list(ways) == ["year first"] for ways in readable.values())
    ]
    sure = {text: next(iter(ways.values())) for text, ways in readable.items() if _one_day(ways)}
    if len(sure) == len(readable):
        return (
            sure,
            [],
            next((text for text, ways in readable.items() if list(ways) in (["day first"], ["month first"])), ""),
        )
    if len(fitting) != 1:
        return sure, fitting, ""
    order = fitting[0]
    decided = next((text for text, ways in readable.items() if list(ways) == [order]), "")
    return {text: ways[order] if order in ways else sure[text] for text, ways in readable.items()}, [], decided


def _one_day(ways: dict[Order, date]) -> bool:
    return len(set(ways.values())) == 1


def in_order(text: str, order: Order) -> date | None:
    """The day in an order that was answered; None where the text does not fit it."""
    ways = orders_of(text)
    return ways.get(order) or (next(iter(ways.values())) if ways and _one_day(ways) else None)


def excel_day(number: float) -> date | None:
    """The day of a number as spreadsheets count days from 1900; None where it is hardly one."""
    if number != int(number) or not 33_000 <= number <= 73_050:  # 1990 to 2099
        return None
    return _EXCEL_DAY_0 + timedelta(days=int(number))
