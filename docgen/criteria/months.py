"""Calendar months as payer rules count them: the same day number, or the month's last day when there is none."""

from __future__ import annotations

from datetime import date, timedelta

from docgen.criteria.sentences import day
from docgen.months import months_later

_DAYS = 30  # of a month, for whoever counts days where the rules count months


def within_months(first: date, second: date, months: int) -> bool:
    """Whether the second day is on or after the first and at most this many calendar months later."""
    return first <= second <= months_later(first, months)


def borderline(first: date, second: date, months: int) -> str:
    """A sentence where a second day is in time by the calendar and would be late by a count of days; else nothing.

    Rules say months and are counted on the calendar; some readers count 30 days for each, and stop 1 to 4 days sooner.
    Check:  2025-08-31 and 2026-02-28 are 6 calendar months and 181 days apart: borderline; 2026-02-27 is day 180 and is
    not.
    """
    days = (second - first).days
    if not within_months(first, second, months) or days <= _DAYS * months:
        return ""
    return (
        f"Borderline: {days} days; whoever counts {_DAYS * months} days instead of {months} months "
        f"ends on {day(first + timedelta(days=_DAYS * months))}."
    )
