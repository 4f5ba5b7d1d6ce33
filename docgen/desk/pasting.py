"""Rows pasted from a spreadsheet, or from the counting page, held against a case before they are written."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from pathlib import Path

from msgspec import Struct

from docgen.console.rows import made_text
from docgen.errors import Problem, UserError
from docgen.private import alone_in, write_private
from docgen.spreadsheet.asking import Question
from docgen.spreadsheet.take import take
from docgen.spreadsheet.write import write_rows

_NAME = "pasted.csv"


class Pasted(Struct, frozen=True):
    """What was made of pasted rows.

    understood  in sentences
    questions  what cannot be told
    written    names of the files written; none while something is open or nothing was to be written
    """

    understood: str
    questions: tuple[Question, ...]
    written: tuple[str, ...] = ()


def pasted(folder: Path, text: str, answers: Mapping[str, str], mode: str = "") -> Pasted:
    """What a pasted table says, in the ids of the case, and its rows written where a mode says so.

    mode  "add", "replace", or "" for looking alone
    Raises UserError for what is no table, and for rows that the case would refuse.
    """
    if not text.strip():
        raise UserError([Problem("the pasted text", "holds no row", "Copy the rows with their headings.")])
    with tempfile.TemporaryDirectory() as place, alone_in(folder):
        source = Path(place) / _NAME
        write_private(source, text.replace("\r\n", "\n").encode())
        try:
            taken = take(folder, source, answers)
            if taken.problems:
                raise UserError(taken.problems)
            written: tuple[str, ...] = ()
            if mode and not taken.read.questions:
                paths = write_rows(taken.read, source, folder, taken.rows_name, mode)
                written = tuple(path.name for path in paths)
        except UserError as failure:
            # the file was made here: the person pasted a text
            at_their_rows = [Problem(p.where.replace(str(source), "row"), p.what, p.do) for p in failure.problems]
            raise UserError(at_their_rows) from None
        understood = made_text(taken.read, Path(_NAME), taken.target).replace(f"{_NAME}:\n", "")
        return Pasted(understood, taken.read.questions, written)
