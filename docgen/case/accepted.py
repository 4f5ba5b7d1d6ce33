"""What a clinic has accepted once for all its cases: `accepted.toml` beside the case folders.

    [[accepted]]
    row = "C1-41"
    prints = "the words accepted, as the file of the condition has them"
    by = "Jo Example, OTR/L"
    on = 2026-03-03

One inside a case folder takes its place for that case.
"""

from __future__ import annotations

import os
from pathlib import Path

from pydantic import ValidationError

from docgen.case.emergency import Accepted
from docgen.case.files import leads_out, text_of
from docgen.case.toml import read_toml
from docgen.errors import Problem, brief

FILE = "accepted.toml"
_MOST_BYTES, _MOST_PROBLEMS = 200_000, 50


def accepted_path(folder: Path) -> Path | None:
    """The file that holds for a case folder: its own, else the one beside it; None when there is neither."""
    return next((path for path in (folder / FILE, folder.resolve().parent / FILE) if os.path.lexists(path)), None)


def read_accepted(folder: Path) -> tuple[tuple[Accepted, ...], list[Problem]]:
    """The rows accepted for a case folder, and what is wrong with the file."""
    path = accepted_path(folder)
    if path is None:
        return (), []
    if leads_out(path, path.parent):
        return (), [Problem(str(path), "is a link that leads out of its folder", "Put the file itself there.")]
    read = read_toml(text_of(path, str(path), _MOST_BYTES), str(path))
    entries = read.tables.get("accepted", [])
    problems = [Problem(read.where(key), f"unknown key '{brief(key)}'") for key in read.tables if key != "accepted"]
    if not isinstance(entries, list):
        return (), [Problem(read.where("accepted"), "[accepted] is a single table", "Write [[accepted]] each time.")]
    rows: list[Accepted] = []
    for at, entry in enumerate(entries):
        try:
            rows.append(Accepted.model_validate(entry))
        except ValidationError as failure:
            problems += [
                Problem(
                    read.where("accepted", at, *error["loc"]),
                    f"{brief('.'.join(map(str, error['loc'])))}: {error['msg']}",
                )
                for error in failure.errors(include_url=False)[:_MOST_PROBLEMS]
            ]
    twice = {row.row for row in rows if sum(other.row == row.row for other in rows) > 1}
    problems += [
        Problem(read.where("accepted", at, "row"), f"row {row.row} is accepted twice", "Leave one entry.")
        for at, row in enumerate(rows)
        if row.row in twice
    ]
    return tuple(rows), problems
