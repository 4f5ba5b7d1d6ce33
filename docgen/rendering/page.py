"""What a finished document says about itself: title, running head, status, language, paper."""

from __future__ import annotations

from datetime import date
from typing import Literal

from msgspec import Struct

from docgen.rendering.labels import Labels
from docgen.rendering.letterhead import Letterhead

NO_DATE = date(1980, 1, 1)
"""The day of a file whose document has none: the earliest that a zip can hold, and plainly no day of a case."""


class Page(Struct, frozen=True):
    """The furniture and metadata every format shows the same way.

    title         document title, in the metadata and in the window title
    running_head  left part of the head on every page, such as "Robin Example, caregiver guide"
    dated_on      date printed in the head; also the creation date in the metadata
    status        words that mark the packet on every page ("Draft: not yet reviewed"); empty for none
    author        name in the metadata; never a user or machine name
    lang          language tag of the text
    paper         sheet of the DOCX and PDF
    letterhead    what stands above the first page; None for none
    jumps         words and target of each link that stays in sight on a screen: #anchor, or a file beside this one
    mark          what the seal of a file tells of its case: 16 hexadecimal digits that no reader is shown, or empty
    """

    title: str
    running_head: str
    dated_on: date
    status: str = ""
    author: str = ""
    lang: str = "en-US"
    paper: Literal["letter", "a4"] = "letter"
    letterhead: Letterhead | None = None
    jumps: tuple[tuple[str, str], ...] = ()
    mark: str = ""

    def day(self, labels: Labels) -> str:
        """The day in the head as printed; empty for a page that has none."""
        return "" if self.dated_on == NO_DATE else labels.day(self.dated_on)
