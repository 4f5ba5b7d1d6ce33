"""The lines of the order as a file of comma-separated values, for entry by hand or import: one row a line.

Nothing in it can run as a formula in a spreadsheet: a cell that would begin one begins with an apostrophe instead
(OWASP, CSV Injection). Commas, quotes and line ends are as in RFC 4180; the mark of UTF-8 at its head is for
spreadsheets that would take it for another encoding.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Collection, Mapping, Sequence
from datetime import date
from typing import Any

from docgen.documents.phrase import Words

_KEYS = (
    "number",
    "code",
    "name",
    "described",
    "size_mm",
    "quantity",
    "unit",
    "modifiers",
    "billed",
    "diagnoses",
    "months",
    "payer_says",
    "payer_said_on",
)
_SUPPLIERS = ("manufacturer", "model", "part_number")  # left empty for the supplier
_MAY_BE_EMPTY = frozenset({"described", "size_mm", "modifiers", "payer_says", "payer_said_on"})
_BEGINS_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "|", "%", "＝", "＋", "－", "＠")


def lines_file(rows: Sequence[Mapping[str, Any]], may_show: Collection[str], words: Words, status: str) -> bytes:
    """The file, its heads in the words of the documents.

    rows      the lines, see `lines.order_lines`
    may_show  keys of a line that the order itself shows: the file tells no more
    status    what every page says about the state of the packet; it stands in each row, for a row travels alone
    """
    heads: Mapping[str, str] = words["lines_file"]
    keys = [key for key in _KEYS if key in may_show]
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([heads[key] for key in (*keys, *_SUPPLIERS, "status")])
    for row in rows:
        cells = [_cell(key, row, heads) for key in keys]
        writer.writerow([*cells, *[""] * len(_SUPPLIERS), harmless(status)])
    return text.getvalue().encode("utf-8-sig")


def harmless(value: str) -> str:
    """The text on one line, and as text where a spreadsheet would take it for a formula."""
    begins = value.startswith(_BEGINS_FORMULA) or value.strip().startswith(_BEGINS_FORMULA)
    folded = " ".join(value.split())
    return f"'{folded}" if begins else folded


def _cell(key: str, row: Mapping[str, Any], heads: Mapping[str, str]) -> str:
    value = row[key]
    if key == "code" and row.get("without_code"):
        return heads["no_code"]
    if value is None:
        return "" if key in _MAY_BE_EMPTY else heads["not_recorded"]
    return harmless(value.isoformat() if isinstance(value, date) else str(value))
