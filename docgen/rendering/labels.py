"""The few words a renderer itself puts on a page; a language pack replaces them."""

from __future__ import annotations

import datetime

from msgspec import Struct

from docgen.months import MONTHS


class Labels(Struct, frozen=True):
    """Words beside the document's own text.

    day_form        order of {day}, {month} and {year} in a printed date
    direction       which way the script of the page runs, "ltr" or "rtl"
    not_set         what a PDF says in place of a passage in a script that its typeface lacks
    note to caution accessible names of the four call-out tones; the boxes show no heading
    """

    date: str = "Date"
    page: str = "Page"
    pages: str = "Pages"
    of: str = "of"
    figure: str = "Figure"
    table: str = "Table"
    months: tuple[str, ...] = MONTHS
    day_form: str = "{month} {day}, {year}"
    note: str = "Note"
    important: str = "Important"
    warning: str = "Warning"
    caution: str = "Caution"
    not_set: str = "in its own script in the Word file and the web page"
    direction: str = "ltr"

    @property
    def runs_left(self) -> bool:
        """Whether the script of the page runs from right to left."""
        return self.direction == "rtl"

    def day(self, on: datetime.date) -> str:
        """The date as printed, such as November 25, 2026."""
        return self.day_form.format(day=on.day, month=self.months[on.month - 1], year=on.year)


ENGLISH = Labels()
