"""Rows pasted from a spreadsheet, or a sheet as it was saved, held against a case before they are written."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from pathlib import Path

from msgspec import Struct

from docgen.console.rows import made_text
from docgen.errors import Problem, UserError
from docgen.private import write_private
from docgen.spreadsheet.asking import Question
from docgen.spreadsheet.take import take
from docgen.spreadsheet.write import write_rows

_NAME = "pasted.csv"


class Pasted(Struct, frozen=True):
    """What was made of rows.

    understood  in sentences
    questions  what cannot be told
    written    names of the files written; none while something is open or nothing was to be written
    """

    understood: str
    questions: tuple[Question, ...]
    written: tuple[str, ...] = ()


def pasted(folder: Path, text: str, answers: Mapping[str, str], mode: str = "") -> Pasted:
    """The same of a table that was pasted. Raises UserError for what is no table, and as below."""
    if not text.strip():
        raise UserError([Problem("the pasted text", "holds no row", "Copy the rows with their headings.")])
    with tempfile.TemporaryDirectory() as place:
        source = Path(place) / _NAME
        write_private(source, text.replace("\r\n", "\n").encode())
        return of_sheet(folder, source, answers, mode)


def of_sheet(folder: Path, sheet: Path, answers: Mapping[str, str], mode: str = "") -> Pasted:
    """What a sheet says, in the ids of the case, and its rows written where a mode says so.

    mode  "add", "replace", or "" for looking alone
    Raises UserError for what is no sheet, and for rows that the case would refuse.
    """
    try:
        taken = take(folder, sheet, answers)
        if taken.problems:
            raise UserError(taken.problems)
        written: tuple[str, ...] = ()
        if mode and not taken.read.questions:
            paths = write_rows(taken.read, sheet, folder, taken.rows_name, mode, taken.stop_tasks)
            written = tuple(path.name for path in paths)
    except UserError as failure:
        # where the desk keeps the sheet says nothing to whoever sent it
        at_their_rows = [Problem(p.where.replace(str(sheet), "row"), p.what, p.do) for p in failure.problems]
        raise UserError(at_their_rows) from None
    understood = made_text(taken.read, Path(sheet.name), taken.target).replace(f"{_NAME}:\n", "")
    return Pasted(understood, taken.read.questions, written)


def row_of(problem: Problem) -> str:
    """In which row of a pasted table a mistake is, headings counted, as "Row 3: "; empty where it is in none."""
    kind, _, number = problem.where.rpartition(":")
    return f"Row {number}: " if kind == "row" and number.isdecimal() else ""
