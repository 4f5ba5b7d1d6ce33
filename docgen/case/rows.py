"""A CSV sheet (trial.csv, totals.csv, sessions.csv) -> rows. Commas, semicolons or tabs; decimal commas; blank rows and
empty trailing columns."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Collection, Mapping
from datetime import date
from typing import Any

from docgen.case.base import clean_text
from docgen.case.record import TRIAL, Column, Row, Sheet
from docgen.case.session import help_rung
from docgen.case.stage import step_number
from docgen.case.toml import FIRST_DAY, LAST_DAY
from docgen.case.usual import slip, unit_of
from docgen.errors import Problem, brief, did_you_mean, word_meant
from docgen.nearest import stems

MAX_ROWS = 100_000
_MOST_LINES, _MOST_IN_LINE, _MOST_CELLS = 2 * MAX_ROWS, 20_000, 200
_YES, _NO = {"1", "yes", "y", "true"}, {"0", "no", "n", "false"}
_TOTAL = re.compile(r"(grand |sub)?-?(totals?|sums?|all|average|mean)\b", re.IGNORECASE)
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}$")
_MOST_PROBLEMS = 50
_MOST_NEAR = 2


def read_rows(
    text: str, shown: str, methods: Collection[str] | None, tasks: Collection[str] | None
) -> tuple[tuple[Row, ...], list[Problem]]:
    """Rows of the trial and every problem found; a row with a problem is left out.

    shown           how the file is named in a problem
    methods, tasks  the ids a row may name; None when the case could not be read far enough to know
    """
    return read_sheet(text, shown, TRIAL, {"method": methods, "task": tasks})


def read_sheet(
    text: str, shown: str, sheet: Sheet, known: Mapping[str, Collection[str] | None]
) -> tuple[tuple[Any, ...], list[Problem]]:
    """Rows of a sheet and every problem found; a row with a problem is left out.

    shown  how the file is named in a problem
    known  column -> the ids it may hold; None when the case could not be read far enough to know
    """
    if text.count("\n") > _MOST_LINES:
        return (), [
            Problem(f"{shown}:{_MOST_LINES}", f"is beyond the {_MOST_LINES:,} lines allowed", "Is this the right file?")
        ]
    lines = text.split("\n")
    if at := next((at for at, line in enumerate(lines, 1) if len(line) > _MOST_IN_LINE), 0):
        return (), [
            Problem(
                f"{shown}:{at}",
                f"is longer than the {_MOST_IN_LINE:,} characters allowed in a line",
                "Is this the right file?",
            )
        ]
    header_line = next((line for line in lines if line.strip(" ,;\t")), "")
    if not header_line:
        return (), [
            Problem(f"{shown}:1", "is empty", f"Its first line must name the columns: {', '.join(sheet.required)}, ...")
        ]
    delimiter = delimiter_of(header_line)
    reader = csv.reader(io.StringIO(text), delimiter=delimiter, strict=True)
    problems: list[Problem] = []
    unnamed: dict[str, dict[str, str]] = {}  # column -> id of which the case has no entry at all -> where it stands
    rows: list[Any] = []
    names: list[str] | None = None
    try:
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            where = f"{shown}:{reader.line_num}"
            if len(cells) > _MOST_CELLS:
                problems.append(
                    Problem(
                        where,
                        f"holds {len(cells):,} cells, more than the {_MOST_CELLS} allowed",
                        "Check the commas and quotes.",
                    )
                )
                break
            if names is None:
                names = _header(cells, where, sheet, problems)
                if problems:
                    break
                continue
            if len(rows) >= MAX_ROWS:
                problems.append(Problem(where, f"is beyond the {MAX_ROWS:,} rows allowed", "Is this the right file?"))
                break
            row = _row(sheet, names, cells, reader.line_num, where, known, delimiter != ",", problems, unnamed)
            if row is not None:
                rows.append(row)
            if len(problems) >= _MOST_PROBLEMS:
                problems.append(
                    Problem(where, "is where reading stopped, after so many problems", "Correct these first.")
                )
                break
    except csv.Error as failure:
        problems.append(
            Problem(
                f"{shown}:{reader.line_num}", f"is not readable as CSV: {failure}", "Check the quotes on this line."
            )
        )
    return tuple(rows), [*problems, *(_none_yet(column, ids) for column, ids in unnamed.items())]


def delimiter_of(first_line: str) -> str:
    """What parts the cells of a file of rows: a comma, a semicolon or a tab, whichever its first line has most of."""
    return max(",;\t", key=first_line.count)


def _none_yet(column: str, ids: Mapping[str, str]) -> Problem:
    """That rows name entries of a list in which the case has none yet, with the lines to write."""
    listed = ", ".join(f"'{brief(name, 40)}'" for name in ids)
    value = '"?"' if column == "task" else '"<its name in plain words>"'
    lines = "; ".join(f"{brief(name, 40)} = {value}" for name in ids)
    other = ', with "steer", "stop", "place" or "other" for ?' if column == "task" else ""
    what = f"names the {column}{'s' * (len(ids) > 1)} {listed}, and the case has no {column} yet"
    return Problem(next(iter(ids.values())), what, f"Write below [trial.{column}s]{other}: {lines}.")


def _header(cells: list[str], where: str, sheet: Sheet, problems: list[Problem]) -> list[str]:
    names = [re.sub(r"[\s-]+", "_", cell.strip().lower()) for cell in cells]
    for name in dict.fromkeys(names):
        if not name:
            continue
        if name not in sheet.by_name:
            problems.append(Problem(where, f"unknown column '{brief(name)}'", _nearest_column(name, sheet)))
        elif names.count(name) > 1:
            problems.append(Problem(where, f"the column '{name}' is there twice", "Keep one."))
    for name in sheet.required:
        if name not in names and not problems:
            problems.append(
                Problem(where, f"the column '{name}' is missing", f"Required: {', '.join(sheet.required)}.")
            )
    return names


def _nearest_column(wrong: str, sheet: Sheet) -> str:
    """What to do about a column that there is not: the one that was meant, else all there are."""
    if word_meant(wrong, sheet.by_name):
        return did_you_mean(wrong, sheet.by_name)
    words = stems(wrong.replace("_", " "))  # word for word: 'assistance' is like 'distance' and is none
    explained = {column: stems(column.means) for column in sheet.columns}
    meant = [column for column, means in explained.items() if words and means[: len(words)] == words]
    meant = meant or [column for column, means in explained.items() if words and set(words) <= set(means)]
    if meant:
        near = " or ".join(f"{column.name!r} ({column.means})" for column in meant[:_MOST_NEAR])
        return f"Did you mean {near}?"
    return f"'docgen rows CASE FILE' takes a sheet of your own. The columns here are: {', '.join(sheet.by_name)}."


def _row(
    sheet: Sheet,
    names: list[str],
    cells: list[str],
    line: int,
    where: str,
    known: Mapping[str, Collection[str] | None],
    comma: bool,
    problems: list[Problem],
    unnamed: dict[str, dict[str, str]],
) -> Any:
    columns = sheet.by_name
    values: dict[str, Any] = {}
    before = len(problems)
    for place, cell in enumerate(cells):
        cell = cell.strip()
        name = names[place] if place < len(names) else ""
        if not cell:
            continue
        if not name:
            problems.append(
                Problem(
                    where,
                    f"'{brief(cell, 40)}' stands in a column without a name",
                    "Name the column in the first line, or clear the cell.",
                )
            )
            continue
        column = columns[name]
        try:
            value = _READERS[column.kind](cell, column, comma)
        except ValueError as failure:
            problems.append(Problem(where, f"{name} is '{brief(cell, 40)}', but {failure}", _advice(column)))
            continue
        allowed = known.get(name)
        if allowed is not None and not allowed:
            unnamed.setdefault(name, {}).setdefault(str(value), where)
        elif allowed is not None and value not in allowed:
            problems.append(Problem(where, f"unknown {name} '{brief(cell, 40)}'", did_you_mean(cell, allowed)))
        values[name] = value
    if not any(name in values for name, _ in sheet.blank_together):
        values |= dict(sheet.blank_together)
    for name in sheet.required:
        if name not in values and len(problems) == before:
            problems.append(Problem(where, f"{name} is blank", _advice(columns[name]) + " Or take the row out."))
    if len(problems) > before or any(unnamed.values()):
        return None
    return sheet.row(line=line, **values)


def _advice(column: Column) -> str:
    return f"It holds the {column.means}." if column.kind == "date" else f"It holds: {column.means}."


def _date(cell: str, column: Column, comma: bool) -> date:
    if _TOTAL.match(cell):
        raise ValueError("the row is one of totals and no attempt; take it out, or give the sheet to 'docgen rows'")
    if not _ISO.match(cell):
        raise ValueError("a date is written year-month-day, as 2026-03-31")
    try:
        day = date.fromisoformat(cell)
    except ValueError:
        raise ValueError("there is no such day") from None
    if not FIRST_DAY <= day <= LAST_DAY:
        raise ValueError(f"a day is between {FIRST_DAY} and {LAST_DAY}")
    return day


def _yes_no(cell: str, column: Column, comma: bool) -> bool:
    word = cell.lower()
    if word not in _YES | _NO:
        raise ValueError("it must be 1 or 0, or yes or no")
    return word in _YES


def _number(cell: str, column: Column, comma: bool) -> float:
    text = cell.replace(",", ".") if comma else cell
    if column.usual and re.fullmatch(r"[-−][0-9]{1,9}(\.[0-9]{1,9})?", text):
        raise ValueError("it has a sign; is the sign a slip?")
    if not re.fullmatch(r"[0-9]{1,9}(\.[0-9]{1,9})?", text):
        raise ValueError(
            "it must be a plain number, such as 0.7" if not comma else "it must be a plain number, such as 0,7"
        )
    value = float(text)
    if value > column.high:
        named = slip(value, column.usual.low, column.usual.high, unit_of(column.name)) if column.usual else ""
        raise ValueError(
            f"it must not be over {column.high:,g}{' ' + column.unit if column.unit else ''}"
            + (f"; is it {named}?" if named else "")
        )
    return value


def _numbers(cell: str, column: Column, comma: bool) -> tuple[float, ...]:
    return tuple(_number(part, column, comma) for part in re.split(r"[\s;/]+", cell.strip("; /")))


def _count(cell: str, column: Column, comma: bool) -> int:
    value = _number(cell, column, comma)
    if value != int(value):
        raise ValueError("it must be a whole number")
    return int(value)


def _words(cell: str, column: Column, comma: bool) -> str:
    text = clean_text(cell)
    if len(text) > 1000:
        raise ValueError("it must not be over 1,000 characters")
    return text


_READERS: dict[str, Callable[[str, Column, bool], Any]] = {
    "date": _date,
    "id": lambda cell, column, comma: cell,
    "yes_no": _yes_no,
    "count": _count,
    "step": lambda cell, column, comma: step_number(cell),
    "prompt": lambda cell, column, comma: help_rung(cell),
    "number": _number,
    "numbers": _numbers,
    "scale": _number,
    "words": _words,
}
