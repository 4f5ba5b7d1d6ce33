"""The printable recording sheet of a trial, made from the columns of trial.csv."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from docgen.case.record import COLUMNS, Column
from docgen.packet.trees import template_tree
from docgen.packet.wording import language_words
from docgen.rendering.page import NO_DATE, Page

# What is the same for a whole block stands once at the top of the sheet; the rest is a row an attempt.
_ONCE = ("date", "method", "order", "supervisor", "seating", "speed_m_s")


def clipboard_pdf(case_id: str, lang: str = "en") -> bytes:
    """The sheet as PDF bytes; it holds every column of trial.csv once."""
    from docgen.rendering.formats.to_pdf import render
    from docgen.rendering.labels import ENGLISH

    block = [column for column in COLUMNS if _once(column)]
    attempt = [column for column in COLUMNS if not _once(column)]
    tree = template_tree("_clipboard.md", {"block": _shown(block), "attempt": _shown(attempt)}, lang)
    words = language_words(lang)
    page = Page(words["clipboard"], f"{case_id}, {words['clipboard'].lower()}", NO_DATE)
    # an empty sheet carries no date of its own: the block's date is written by hand
    return render(tree, page, {}, labels=replace(ENGLISH, day_form="\u00a0"))


def _once(column: Column) -> bool:
    return column.name in _ONCE or column.per_block or column.name.endswith(("_before", "_after"))


def _shown(columns: list[Column]) -> list[dict[str, Any]]:
    return [
        {
            "name": column.name,
            "head": column.head or column.name,
            "means": f"{column.means} ({column.unit})" if column.unit else column.means,
        }
        for column in columns
    ]
