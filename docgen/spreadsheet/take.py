"""One call from a file to what was made of it, and the ids of a case that its names are held against."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from msgspec import Struct

from docgen.case.by_name import spread
from docgen.case.days_written import plain
from docgen.case.files import text_of
from docgen.case.forgiving import day_of
from docgen.case.lines import KeyPath
from docgen.case.mistakes import toml_of
from docgen.case.model import Case
from docgen.case.read import MAX_TOML_BYTES, rows_file
from docgen.case.session import SESSIONS
from docgen.case.toml import read_toml
from docgen.errors import Problem, UserError
from docgen.spreadsheet.cells import grids_of
from docgen.spreadsheet.sifting import Ids
from docgen.spreadsheet.understand import Understood, understood
from docgen.spreadsheet.write import checked, file_of


class Taken(Struct, frozen=True):
    """A spreadsheet held against a case: what was made of it, the file it becomes, and what the case would refuse."""

    read: Understood
    target: str
    rows_name: str
    problems: tuple[Problem, ...]


def take(folder: Path, source: Path, answers: Mapping[str, str]) -> Taken:
    """What a spreadsheet says, in the ids of a case. Raises UserError where either cannot be read, or for an answer to
    no question."""
    methods, tasks, rows_name, by_name, delivered_on = _ids_of(folder)
    read = understood(grids_of(source), methods, tasks, answers)
    if delivered_on and (days := [row["date"] for row in read.rows if row.get("date")]):
        _refuse_lessons(source, days, delivered_on)
    if read.nameless:
        raise UserError(
            _lacking(folder / "case.toml", kind, names, ("trial", f"{kind}s") in by_name)
            for kind, names in read.nameless.items()
        )
    if read.unused and not read.questions:
        raise UserError(
            Problem("--map", f"'{key}' answers no question about this file", "Leave it out, or look at its spelling.")
            for key in read.unused
        )
    problems = () if read.questions else tuple(checked(read, source, methods, tasks))
    return Taken(read, file_of(read, rows_name), rows_name, problems)


def _refuse_lessons(source: Path, days: Sequence[str], delivered_on: date) -> None:
    """Raise UserError for a sheet whose days all come after the delivery: its tries are lessons and no trial, and would
    count as evidence of one."""
    if min(days) > delivered_on.isoformat():
        what = f"begins on {min(days)}, after the delivery of {delivered_on}: these are lessons, not a trial"
        do = f"Write lessons into sessions.csv beside case.toml, one row a try, with {', '.join(SESSIONS.required)}."
        raise UserError([Problem(str(source), what, do)])


def answers_of(given: Sequence[str]) -> dict[str, str]:
    """The answers of `--map KEY=ANSWER`; the last sign of equality parts them."""
    answers = {}
    for text in given:
        key, sign, answer = text.rpartition("=")
        if not sign or not key.strip() or not answer.strip():
            raise UserError([Problem("--map", f"'{text}' is no answer", "Write it as the question shows it.")])
        answers[key.strip()] = answer.strip()
    return answers


def _lacking(path: Path, kind: str, names: Sequence[str], by_name: bool) -> Problem:
    """A kind of entry that the rows name and the case has none of, with the lines to write in the form of the case."""
    ids = {name: re.sub(r"[^a-z0-9]+", "_", plain(name)).strip("_") for name in names}
    head = f"[trial.{kind}s]" if by_name else f"[[trial.{kind}s]]"
    shows = ', shows = "?"' if kind == "task" else ""
    lines = [
        f"{key} = {{ name = {toml_of(name)}{shows} }}"
        if by_name
        else f'{head} id = "{key}", name = {toml_of(name)}{shows}'
        for name, key in ids.items()
    ]
    other = ', with "steer", "stop", "place" or "other" for ?' if shows else ""
    return Problem(
        str(path),
        f"has no {kind} in {head} yet, and the rows name {', '.join(map(repr, names))}",
        f"Write first{f', below {head}' if by_name else ''}{other}: {'; '.join(lines)}",
    )


def _ids_of(folder: Path) -> tuple[Ids, Ids, str, frozenset[KeyPath], date | None]:
    """Methods and tasks of the case with their names, its file of rows, the lists that it writes by name, and the day
    of the delivery; the rest of it may still be unfinished."""
    path = folder / "case.toml"
    missing = Problem(str(folder), "holds no case.toml", "Name a case folder, or start one with 'docgen new ID'.")
    text = text_of(path, str(path), MAX_TOML_BYTES, missing)
    read = read_toml(text, str(path))
    lists = spread(read.tables, {}, Case, read.where)
    trial = lists.tables.get("trial")
    dates = lists.tables.get("dates")
    delivered_on = dates.get("delivered_on") if isinstance(dates, dict) else None
    if isinstance(delivered_on, str):
        delivered_on = day_of(delivered_on)
    if not isinstance(delivered_on, date):
        delivered_on = None
    return _ids(trial, "methods"), _ids(trial, "tasks"), rows_file(text.encode()), lists.by_name, delivered_on


def _ids(trial: object, name: str) -> dict[str, str]:
    entries = trial.get(name) if isinstance(trial, dict) else None
    listed = [entry for entry in entries if isinstance(entry, dict)] if isinstance(entries, list) else []
    return {entry["id"]: str(entry.get("name", entry["id"])) for entry in listed if isinstance(entry.get("id"), str)}
