"""Spreadsheets as clinics keep them, written by code: one record in many dialects, and what is to come of each.

XLSX files are written by openpyxl and ODS files by odfpy, neither of which the program reads with.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any, NamedTuple

Cells = list[list[Any]]
METHODS = {"hand_joystick": "standard joystick by hand", "pads": "proximity head pads"}
TASKS = {"door": "through a doorway", "stop": "stop at the line"}


class Attempt(NamedTuple):
    on: date
    method: str
    task: str
    done: bool
    seconds: float | None
    contacts: int
    release_s: float | None
    note: str = ""


def record(*days: date) -> list[Attempt]:
    """Eight attempts on two days; five of them done."""
    first, second = days
    return [
        Attempt(first, "hand_joystick", "door", False, None, 2, 1.4, "veered, twice"),
        Attempt(first, "hand_joystick", "stop", True, 12.5, 0, 0.9),
        Attempt(first, "pads", "door", True, 31.0, 0, 0.4),
        Attempt(first, "pads", "stop", True, 9.25, 0, 0.5),
        Attempt(second, "hand_joystick", "door", False, None, 1, 1.2),
        Attempt(second, "hand_joystick", "stop", False, None, 0, 1.9, "line passed"),
        Attempt(second, "pads", "door", True, 28.5, 0, 0.4),
        Attempt(second, "pads", "stop", True, 8.0, 0, 0.6),
    ]


RECORD = record(date(2026, 9, 22), date(2026, 9, 23))
OPEN = record(date(2026, 3, 4), date(2026, 4, 5))  # days that are months too


def wanted(
    attempts: Sequence[Attempt] = RECORD, columns: str = "seconds contacts release_s note"
) -> list[dict[str, str]]:
    """The rows that are to come of the record, with these columns besides those that every row has."""
    rows = []
    for attempt in attempts:
        row = {
            "date": attempt.on.isoformat(),
            "method": attempt.method,
            "task": attempt.task,
            "success": str(int(attempt.done)),
        }
        for name in columns.split():
            value = getattr(attempt, name)
            if value not in (None, ""):
                row[name] = f"{value:g}" if isinstance(value, (int, float)) else value
        rows.append(row)
    return rows


HEAD = ("date", "method", "task", "success", "seconds", "contacts", "release_s", "note")


def cells(
    heads: Sequence[str] = HEAD,
    attempts: Sequence[Attempt] = RECORD,
    *,
    day: Callable[[date], Any] = date.isoformat,
    number: Callable[[float], Any] = lambda value: f"{value:g}",
    done: tuple[Any, Any] = ("1", "0"),
    method: Callable[[str], str] = str,
    task: Callable[[str], str] = str,
) -> Cells:
    """The record as cells: a heading and a row an attempt."""
    rows: Cells = [[*heads]]
    for a in attempts:
        rows.append(
            [
                day(a.on),
                method(a.method),
                task(a.task),
                done[0] if a.done else done[1],
                "" if a.seconds is None else number(a.seconds),
                number(a.contacts),
                "" if a.release_s is None else number(a.release_s),
                a.note,
            ][: len(heads)]
        )
    return rows


def comma(value: float) -> str:
    return f"{value:g}".replace(".", ",")


def spaced(name: str) -> str:
    return name.replace("_", " ")


# ---- files ---------------------------------------------------------------------------------------------------


def as_csv(rows: Cells, delimiter: str = ",", charset: str = "utf-8", before: str = "", end: str = "\n") -> bytes:
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=delimiter, lineterminator=end).writerows(rows)
    return (before + text.getvalue()).encode(charset)


def as_xlsx(*sheets: tuple[str, Cells], merged: Sequence[str] = ()) -> bytes:
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets:
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append([None if value == "" else value for value in row])
        for span in merged:
            sheet.merge_cells(span)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def as_ods(rows: Cells, folder: Path) -> bytes:
    from odf.opendocument import OpenDocumentSpreadsheet
    from odf.table import Table, TableCell, TableRow
    from odf.text import P

    book = OpenDocumentSpreadsheet()
    table = Table(name="Tabelle1")
    for row in rows:
        line = TableRow()
        for value in row:
            if isinstance(value, (date, datetime)):
                cell = TableCell(valuetype="date", datevalue=value.isoformat())
            elif isinstance(value, (int, float)):
                cell = TableCell(valuetype="float", value=str(value))
            else:
                cell = TableCell(valuetype="string") if value else TableCell()
                if value:
                    cell.addElement(P(text=value))
            line.addElement(cell)
        table.addElement(line)
    book.spreadsheet.addElement(table)
    path = folder / "made.ods"
    book.save(str(path))
    return path.read_bytes()
