"""Birth dates of a copy about nobody, of which a page shows the year alone or not even that."""

from __future__ import annotations

from datetime import date

OLDEST_AGE = 89  # above it, 164.514(b)(2)(i)(C) allows one category, 90 or more


class YearOnly(date):
    """A birth date of which only the year may be shown; `oldest` where not even that."""

    oldest = False


class Oldest(YearOnly):
    """The birth date of someone older than the public list lets anyone tell."""

    oldest = True
