"""Calendar days, months and years: the same day number so many months later, or the last day where there is none, and
the names of months, in English in every form and in other languages so that they are known."""

from __future__ import annotations

import calendar
from datetime import date

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_SHORT = tuple(month[:3] for month in MONTHS)
ALSO_WORDS = ("March", "Mar", "May")  # alone, they are a month only after a word such as "in"; small, only with a year
NAMES = "|".join((*MONTHS, "Sept", *_SHORT))
# Spanish, German, French, Italian and Portuguese, as CLDR has them; without those that are English words
FOREIGN = (
    "enero|febrero|marzo|abril|mayo|junio|julio|agosto|septiembre|octubre|noviembre|diciembre|"
    "januar|jänner|februar|märz|maerz|juni|juli|oktober|dezember|"
    "janvier|février|fevrier|mars|avril|mai|juin|juillet|août|aout|septembre|octobre|novembre|décembre|decembre|"
    "gennaio|febbraio|aprile|maggio|giugno|luglio|settembre|ottobre|dicembre|"
    "janeiro|fevereiro|março|maio|junho|julho|setembro|outubro|novembro|dezembro"
)
# in small letters without marks, long and short, as a clinic's sheet may write them: English, German, French, Spanish,
# as CLDR has them (from memory; held against Babel in the tests)
_AS_WRITTEN = (
    "january jan januar jaen janner janvier janv enero ene",
    "february feb februar febr fevrier fevr febrero",
    "march mar marz maerz mrz mars marzo",
    "april apr avril avr abril abr",
    "may mai mayo",
    "june jun juni juin junio",
    "july jul juli juillet juil julio",
    "august aug aout agosto ago",
    "september sep sept septembre septiembre set",
    "october oct oktober okt octobre octubre",
    "november nov novembre noviembre",
    "december dec dezember dez decembre diciembre dic",
)
MONTH = {name: number for number, names in enumerate(_AS_WRITTEN, 1) for name in names.split()}


def months_later(start: date, months: int) -> date:
    """The day this many calendar months later (or earlier, when negative).

    Source: month-end clamp, as general date libraries do it.
    Check:  2023-08-31 + 6 is 2024-02-29; 2024-08-31 + 6 is 2025-02-28; 2024-02-29 + 12 is 2025-02-28
            (python-dateutil 2.9, recomputed).
    """
    index = start.year * 12 + start.month - 1 + months
    year, month = divmod(index, 12)
    return date(year, month + 1, min(start.day, calendar.monthrange(year, month + 1)[1]))


def whole_years(start: date, end: date) -> int:
    """Years that are over between two days, as an age is counted; of a February 29 a year is over on March 1."""
    return end.year - start.year - ((end.month, end.day) < (start.month, start.day))


def whole_months(start: date, end: date) -> int:
    """Months that are over between two days, as an age is counted.

    Check:  2021-05-12 to 2026-04-21 is 59, to 2026-05-12 is 60 (counted by hand).
    """
    return 12 * (end.year - start.year) + end.month - start.month - (end.day < start.day)


def day_in_words(on: date) -> str:
    """A day as it is said in English: September 22, 2026."""
    return f"{MONTHS[on.month - 1]} {on.day}, {on.year}"


def month_number(name: str) -> int:
    """1 to 12. Raises ValueError for what is no month."""
    return _SHORT.index(name[:3].capitalize()) + 1


def month_like(name: str, day: date) -> str:
    """The month of a day in the form of another name: long or short, in capitals or not."""
    short = len(name) < 5 and name.capitalize() not in MONTHS
    shown = _SHORT[day.month - 1] if short else MONTHS[day.month - 1]
    return shown.upper() if name.isupper() else shown
