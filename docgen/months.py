"""Calendar days, months and years: the same day number so many months later, or the last day where there is none."""

from __future__ import annotations

import calendar
from datetime import date


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
    return f"{calendar.month_name[on.month]} {on.day}, {on.year}"
