"""A new case folder: empty and commented, or filled with an invented person."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

from docgen.case.carry_over import carried_over
from docgen.case.files import forbidden_name, text_of
from docgen.case.key import settle_key
from docgen.case.read import MAX_CSV_BYTES, MAX_TOML_BYTES, rows_file
from docgen.case.starter import Asked, first_line, starter
from docgen.case.toml import read_toml
from docgen.case.totals import FILE as TOTALS_FILE
from docgen.errors import Problem, UserError
from docgen.private import private_folder, write_private
from docgen.resources import folder

_EXAMPLE = "ilmari-okonjo-vale"
_ID = re.compile(r"[a-z0-9][a-z0-9-]{0,59}")


def start(
    target: Path,
    sheet: Callable[[str], bytes],
    example: bool = False,
    asked: Asked | None = None,
    former: Path | None = None,
) -> Path:
    """The folder made. Its name is the id of the case; nothing that exists is touched.

    sheet    makes the printable recording sheet of a case id
    asked    what the request needs; every key there is when None
    former   folder of a case to carry over, with the rows and day totals of its trial
    Raises UserError when the id has the wrong form or the folder is already there.
    """
    if not _ID.fullmatch(target.name):
        raise UserError(
            [Problem(str(target), "is not an id", "Use small letters, digits and hyphens, such as robin-example.")]
        )
    if refusal := forbidden_name(target.name):
        raise UserError([Problem(str(target), f"is no id: {refusal}", "Choose another id.")])
    if os.path.lexists(target):
        raise UserError([Problem(str(target), "is already there", "Choose another id; nothing was changed.")])
    source = folder("cases") / _EXAMPLE
    toml = starter(target.name, asked)
    rows = first_line()
    if example:
        text = (source / "case.toml").read_text(encoding="utf-8")
        toml = text.replace(f'id = "{_EXAMPLE}"', f'id = "{target.name}"', 1)
        rows = (source / "trial.csv").read_text(encoding="utf-8")
    totals = ""
    if former is not None:
        toml, rows = _carried(former, target.name)
        path = former / TOTALS_FILE
        totals = text_of(path, str(path), MAX_CSV_BYTES) if path.is_file() else ""
    try:
        private_folder(target)
        write_private(target / "case.toml", toml.encode())
        write_private(target / "trial.csv", rows.encode())
        if totals:
            write_private(target / TOTALS_FILE, totals.encode())
        write_private(target / "clipboard.pdf", sheet(target.name))
        settle_key(target)
    except OSError as failure:
        shutil.rmtree(target, ignore_errors=True)
        raise UserError([Problem(str(target), f"cannot be made: {failure.strerror}")]) from None
    return target


def _carried(former: Path, case_id: str) -> tuple[str, str]:
    """case.toml and trial.csv of a new case made from a former one. Raises UserError when that cannot be read."""
    toml = former / "case.toml"
    text = text_of(
        toml, str(toml), MAX_TOML_BYTES, Problem(str(former), "holds no case.toml", "Name the folder of a case.")
    )
    read_toml(text, str(toml))
    rows = former / rows_file(text.encode())
    tried = text_of(rows, str(rows), MAX_CSV_BYTES) if rows.is_file() else first_line()
    return carried_over(text, case_id, date.today()), tried
