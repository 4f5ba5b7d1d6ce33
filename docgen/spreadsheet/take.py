"""One call from a file to what was made of it, and the ids of a case that its names are held against."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from msgspec import Struct

from docgen.case.by_name import spread
from docgen.case.files import text_of
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.read import MAX_TOML_BYTES, rows_file
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
    methods, tasks, rows_name, by_name = _ids_of(folder)
    read = understood(grids_of(source), methods, tasks, answers)
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
    """A kind of entry that the rows name and the case has none of, in the form in which the case writes its lists."""
    entry_id = re.sub(r"[^a-z0-9]+", "_", names[0].lower()).strip("_")
    head = f"[trial.{kind}s.NAME]" if by_name else f"[[trial.{kind}s]]"
    entry = f"[trial.{kind}s.{entry_id}] with" if by_name else f'{head} id = "{entry_id}" and'
    return Problem(
        str(path),
        f"has no {head} yet, and the rows name {', '.join(map(repr, names))}",
        f'Write an entry with id and name for each {kind} first, such as {entry} name = "{names[0]}".',
    )


def _ids_of(folder: Path) -> tuple[Ids, Ids, str, frozenset[KeyPath]]:
    """Methods and tasks of the case with their names, its file of rows, and the lists that it writes by name; the rest
    of it may still be unfinished."""
    path = folder / "case.toml"
    missing = Problem(str(folder), "holds no case.toml", "Name a case folder, or start one with 'docgen new ID'.")
    text = text_of(path, str(path), MAX_TOML_BYTES, missing)
    read = read_toml(text, str(path))
    lists = spread(read.tables, {}, Case, read.where)
    trial = lists.tables.get("trial")
    return _ids(trial, "methods"), _ids(trial, "tasks"), rows_file(text.encode()), lists.by_name


def _ids(trial: object, name: str) -> dict[str, str]:
    entries = trial.get(name) if isinstance(trial, dict) else None
    listed = [entry for entry in entries if isinstance(entry, dict)] if isinstance(entries, list) else []
    return {entry["id"]: str(entry.get("name", entry["id"])) for entry in listed if isinstance(entry.get("id"), str)}
