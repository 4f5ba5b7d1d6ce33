"""The cells of a file: CSV of any dialect by the standard library, XLSX and ODS (and XLS) by python-calamine."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from pathlib import Path

from msgspec import Struct

from docgen.case.files import bytes_of, refused_character
from docgen.errors import Problem, UserError

Cell = str | float | bool | date | time | timedelta | None

_MOST_BYTES, _MOST_ROWS, _MOST_CELLS = 20_000_000, 20_000, 200
_MOST_UNPACKED = 100_000_000
_WORKBOOKS = (".xlsx", ".xlsm", ".xls", ".xlsb", ".ods")
_DELIMITERS = ";\t|,"  # a decimal comma makes the comma the last to be tried


class Grid(Struct, frozen=True):
    """One sheet: its cells by row, with the number of each row as the spreadsheet shows it; `dialect` says how the
    file was read, in words."""

    name: str
    rows: tuple[tuple[int, tuple[Cell, ...]], ...]
    dialect: str


def grids_of(path: Path) -> tuple[Grid, ...]:
    """Every sheet of a file that holds something. Raises UserError for a file that is no spreadsheet."""
    data = bytes_of(path, str(path), _MOST_BYTES)
    if path.suffix.lower() in _WORKBOOKS or data.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        sheets = _of_workbook(path, data)
    else:
        sheets = (_of_text(path, data),)
    filled = tuple(grid for grid in sheets if grid.rows)
    if not filled:
        raise UserError([Problem(str(path), "holds no cells", "Is this the right file?")])
    for grid in filled:
        if len(grid.rows) > _MOST_ROWS or any(len(cells) > _MOST_CELLS for _, cells in grid.rows):
            beyond = f"holds more than {_MOST_ROWS:,} rows or {_MOST_CELLS} columns"
            raise UserError([Problem(str(path), beyond, "Is this the right file?")])
    return filled


def _of_workbook(path: Path, data: bytes) -> tuple[Grid, ...]:
    from python_calamine import CalamineError, CalamineWorkbook

    reason = _too_large(data)
    try:
        if not reason:
            book = CalamineWorkbook.from_filelike(io.BytesIO(data))
            sheets = [
                (name, book.get_sheet_by_name(name).to_python(skip_empty_area=False)) for name in book.sheet_names
            ]
    except (CalamineError, OSError, ValueError) as failure:
        reason = str(failure).split("\n")[0].rstrip(".") or "it is damaged"
    except BaseException as failure:
        if type(failure).__name__ != "PanicException":  # what the library raises where it meets what cannot be
            raise
        reason = "it is damaged"
    if reason:
        raise UserError(
            [Problem(str(path), f"cannot be read as a workbook: {reason}", "Save it again, or save it as CSV.")]
        )
    kind = path.suffix.lower().removeprefix(".") or "workbook"
    return tuple(Grid(name, _filled(rows), f"{kind}, sheet '{name}'") for name, rows in sheets)


def _too_large(data: bytes) -> str:
    """Why a packed workbook would not fit once it is unpacked; "" for one that does, and for one of another kind."""
    if not data.startswith(b"PK"):
        return ""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            unpacked = sum(entry.file_size for entry in packed.infolist())
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError):
        return "it is damaged"
    return (
        ""
        if unpacked <= _MOST_UNPACKED
        else f"unpacked it is {unpacked:,} bytes, more than the {_MOST_UNPACKED:,} allowed"
    )


def _filled(rows: Sequence[Sequence[object]]) -> tuple[tuple[int, tuple[Cell, ...]], ...]:
    cleaned = ((number, tuple(_cell(value) for value in row)) for number, row in enumerate(rows, 1))
    return tuple((number, cells) for number, cells in cleaned if any(cell is not None for cell in cells))


def _cell(value: object) -> Cell:
    if isinstance(value, datetime):
        return value.date() if value.time() == time() else value
    if isinstance(value, (bool, date, time, timedelta)):
        return value
    if isinstance(value, (int, float)):
        return float(value)
    text = re.sub(r"[\s\u00a0\u202f]+", " ", str(value)).strip() if value is not None else ""
    return text or None


def _of_text(path: Path, data: bytes) -> Grid:
    text, charset = _decoded(data)
    if "\0" in text or refused_character(text.replace("\r", "")):
        raise UserError([Problem(str(path), "is neither a workbook nor a text", "Save it as CSV, XLSX or ODS.")])
    lines = text.splitlines()
    if lines and (named := re.fullmatch(r"sep=(.)", lines[0].strip())):  # a first line that some programs write
        delimiter, text = named.group(1), text.split("\n", 1)[1] if "\n" in text else ""
        first = 2
    else:
        delimiter, first = _delimiter(text), 1
    rows: list[tuple[int, tuple[Cell, ...]]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    before = 0
    try:
        for record in reader:
            cells = tuple(_cell(value) for value in record)
            if any(cell is not None for cell in cells):
                rows.append((before + first, cells))
            before = reader.line_num
    except csv.Error as failure:
        raise UserError(
            [Problem(f"{path}:{reader.line_num}", f"is not readable as CSV: {failure}", "Check the quotes there.")]
        ) from None
    names = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
    return Grid(path.name, tuple(rows), f"{charset}, {names.get(delimiter, delimiter)} between the cells")


def _decoded(data: bytes) -> tuple[str, str]:
    """The text, and which characters it was read as: what a byte order mark says, UTF-8 where it is that, else the
    one-byte set of Western Windows."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace"), "UTF-16"
    for charset, name in (("utf-8-sig", "UTF-8"), ("cp1252", "Windows-1252")):
        try:
            return data.decode(charset), name
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1"), "Latin-1"


def _delimiter(text: str) -> str:
    """What parts the cells: the sign that gives most rows the same number of cells, and more than one."""

    def evenness(delimiter: str) -> tuple[float, int]:
        counts = [len(cells) for cells in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter) if cells]
        wide = [count for count in counts if count > 1]
        if not wide:
            return 0.0, 0
        usual = max(set(wide), key=wide.count)
        return wide.count(usual) / len(counts), usual

    try:
        scored = {delimiter: evenness(delimiter) for delimiter in _DELIMITERS}
    except csv.Error:
        return ","
    return max(_DELIMITERS, key=lambda delimiter: (round(scored[delimiter][0], 1), scored[delimiter][1] > 1))
