"""A case folder -> a Case, or every problem in it at once, each with its file and line."""

from __future__ import annotations

import os
from collections.abc import Collection, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from msgspec import Struct
from pydantic import ValidationError

from docgen.case.accepted import read_accepted
from docgen.case.by_name import spread
from docgen.case.consistency import inconsistencies
from docgen.case.files import decoded, forbidden_name, leads_out, text_of
from docgen.case.key import known_key
from docgen.case.lines import KeyPath, line_for
from docgen.case.mistakes import problem
from docgen.case.model import Case
from docgen.case.record import Sheet
from docgen.case.rows import read_rows, read_sheet
from docgen.case.session import SESSIONS
from docgen.case.stage import TASKS
from docgen.case.toml import Toml, frozen, read_toml
from docgen.case.totals import FILE as TOTALS_FILE
from docgen.case.totals import TOTALS
from docgen.errors import Problem, UserError, brief

MAX_TOML_BYTES = 512_000
MAX_CSV_BYTES = 20_000_000
SESSIONS_FILE = "sessions.csv"
_MOST_PROBLEMS = 200  # put into words; more would be told by nobody


class CaseFile(Struct, frozen=True):
    """A case as read: the case, its folder, where each key stands, the random key it is known by ("" for none yet),
    which lists are written by the names of their entries, and for each key its path as the text has it."""

    case: Case
    folder: Path
    lines: dict[KeyPath, int]
    text: str
    key: str = ""
    by_name: frozenset[KeyPath] = frozenset()
    origins: Mapping[KeyPath, KeyPath] = {}

    def where(self, *path: str | int) -> str:
        """File and line of a key, or of the nearest table above it that is written down."""
        return f"{self.folder / 'case.toml'}:{line_for(self.lines, path)}"

    def row_where(self, line: int) -> str:
        """File and line of a row of the trial."""
        return f"{self.folder / self.case.trial.rows}:{line}"

    def total_where(self, line: int) -> str:
        """File and line of a day total of the trial."""
        return f"{self.folder / TOTALS_FILE}:{line}"

    def session_where(self, line: int) -> str:
        """File and line of a row of training."""
        return f"{self.folder / SESSIONS_FILE}:{line}"


def read_case(path: Path) -> CaseFile:
    """The case in a folder, or in the case.toml named. Raises UserError with every problem found."""
    folder = path.parent if path.name == "case.toml" and not path.is_dir() else path
    toml = folder / "case.toml"
    if leads_out(toml, folder):
        raise UserError(
            [Problem(str(toml), "is a link that leads out of the case folder", "Put the file itself there.")]
        )
    text = text_of(
        toml,
        str(toml),
        MAX_TOML_BYTES,
        Problem(str(folder), "holds no case.toml", "Name a case folder, or start one with 'docgen new ID'."),
    )
    return read_text(text, folder)


def read_text(text: str, folder: Path) -> CaseFile:
    """The case whose case.toml holds this text, with the rows that stand in the folder. Raises UserError with every
    problem found."""
    return read_tables(read_toml(text, str(folder / "case.toml")), folder)


def read_tables(read: Toml, folder: Path) -> CaseFile:
    """The case of these tables, with the rows that stand in the folder. Raises UserError with every problem found."""
    if not read.tables:
        raise UserError([Problem(f"{read.shown}:1", "is empty", "Start a case with 'docgen new ID'.")])
    lists = spread(read.tables, read.lines, Case, read.where)
    raw, lines = lists.tables, lists.lines

    def where(*path: str | int) -> str:
        return f"{read.shown}:{line_for(lines, path)}"

    case, problems = _validated(raw, where, lists.by_name)
    problems += lists.problems
    rows, row_problems, csv_path = _records(raw, folder, where)
    totals, total_problems = _totals(raw, folder)
    tries, try_problems = _sessions(raw, folder)
    accepted, accepted_problems = read_accepted(folder)
    problems += row_problems + total_problems + try_problems + accepted_problems
    if case is not None:
        if case.id != folder.resolve().name:
            problems.append(
                Problem(
                    where("id"),
                    f"the id is '{case.id}' but the folder is '{folder.resolve().name}'",
                    "Give both the same name.",
                )
            )
        case = case.with_records(rows).with_totals(totals).with_sessions(tries).with_accepted(accepted)
        contradictions = inconsistencies(
            case,
            where,
            lambda line: f"{csv_path}:{line}",
            lambda line: f"{folder / TOTALS_FILE}:{line}",
            lambda line: f"{folder / SESSIONS_FILE}:{line}",
        )
        if case.photos:
            from docgen.case.photo_files import photo_problems  # which looks into pictures

            problems += photo_problems(case, folder, where)
        if contradictions:
            from docgen.case.heads import as_written  # which looks at cases that are read

            problems += [
                Problem(each.where, as_written(each.what, lists.by_name), as_written(each.do, lists.by_name))
                for each in contradictions
            ]
    if problems or case is None:
        raise UserError(sorted(problems, key=by_place))
    return CaseFile(case, folder, lines, read.text, known_key(folder), lists.by_name, lists.origins)


def rows_file(toml: bytes) -> str:
    """Name of the file with the rows of the trial that a case.toml names, without reading the case."""
    name: object = None
    with suppress(UserError):  # a file that cannot be read is told when the case is
        text = decoded(toml, "case.toml") if len(toml) <= MAX_TOML_BYTES else ""
        if "rows" in text or "\\" in text:  # else no key of it can be "rows", and reading all of it is saved
            trial = read_toml(text, "case.toml").tables.get("trial")
            name = trial.get("rows") if isinstance(trial, dict) else None
    return name if isinstance(name, str) and _is_plain(name) else "trial.csv"


def _is_plain(name: str) -> bool:
    """Whether it names a file beside the case."""
    return name == Path(name).name and name not in ("", ".", "..") and "\0" not in name


def _validated(raw: dict[str, Any], where: Any, by_name: frozenset[KeyPath]) -> tuple[Case | None, list[Problem]]:
    try:
        return Case.model_validate(frozen(raw)), []
    except ValidationError as failure:
        errors = failure.errors(include_url=False)[:_MOST_PROBLEMS]
        faulty = frozenset[KeyPath](tuple(error["loc"]) for error in errors)
        return None, [problem(error, where, raw, faulty, by_name) for error in errors]


def _records(raw: dict[str, Any], folder: Path, where: Any) -> tuple[tuple[Any, ...], list[Problem], Path]:
    trial = raw.get("trial")
    trial = trial if isinstance(trial, dict) else {}
    name = trial.get("rows", "trial.csv")
    path = folder / "trial.csv"
    if not isinstance(name, str):
        return (), [], path  # reported with the other keys
    if not _is_plain(name):
        return (
            (),
            [
                Problem(
                    where("trial", "rows"),
                    f"'{brief(name)}' leads out of the case folder",
                    "Name a file that stands beside case.toml.",
                )
            ],
            path,
        )
    if refusal := forbidden_name(name):
        return (), [Problem(where("trial", "rows"), brief(refusal, 200), "Give the file another name.")], path
    path = folder / name
    if leads_out(path, folder):
        return (
            (),
            [
                Problem(
                    where("trial", "rows"),
                    f"'{brief(name)}' is a link that leads out of the case folder",
                    "Put the file itself beside case.toml.",
                )
            ],
            path,
        )
    if not os.path.lexists(path) and os.path.lexists(folder / TOTALS_FILE):
        return (), [], path  # a trial of which there are only totals
    try:
        text = text_of(
            path,
            str(path),
            MAX_CSV_BYTES,
            Problem(
                where("trial", "rows"),
                f"the rows of the trial are missing: there is no file '{brief(name)}'",
                "Put the CSV beside case.toml; with no trial yet, its first line alone will do.",
            ),
        )
    except UserError as failure:
        return (), list(failure.problems), path
    rows, problems = read_rows(text, str(path), _ids(trial.get("methods")), _ids(trial.get("tasks")))
    return rows, problems, path


def _totals(raw: dict[str, Any], folder: Path) -> tuple[tuple[Any, ...], list[Problem]]:
    """Day totals of the trial; none when there is no such file."""
    trial = raw.get("trial")
    trial = trial if isinstance(trial, dict) else {}
    return _beside(folder / TOTALS_FILE, TOTALS, {name[:-1]: _ids(trial.get(name)) for name in ("methods", "tasks")})


def _sessions(raw: dict[str, Any], folder: Path) -> tuple[tuple[Any, ...], list[Problem]]:
    """Rows of training after delivery; none when there is no such file."""
    trial, spaces = raw.get("trial"), _ids(raw.get("spaces"))
    own = _ids(trial.get("tasks")) if isinstance(trial, dict) else set()
    tasks = None if own is None or spaces is None else {*TASKS, *own, *spaces}
    return _beside(folder / SESSIONS_FILE, SESSIONS, {"task": tasks})


def _beside(
    path: Path, sheet: Sheet, known: Mapping[str, Collection[str] | None]
) -> tuple[tuple[Any, ...], list[Problem]]:
    """Rows of a sheet that stands beside the case under a name of its own; none when it is not there."""
    if not os.path.lexists(path):
        return (), []
    if leads_out(path, path.parent):
        return (), [
            Problem(str(path), "is a link that leads out of the case folder", "Put the file itself beside case.toml.")
        ]
    try:
        text = text_of(path, str(path), MAX_CSV_BYTES)
    except UserError as failure:
        return (), list(failure.problems)
    return read_sheet(text, str(path), sheet, known)


def _ids(parts: Any) -> set[str] | None:
    if parts is None:
        return set()
    if not isinstance(parts, list) or not all(isinstance(part, dict) for part in parts):
        return None
    return {part["id"] for part in parts if isinstance(part.get("id"), str)}


def by_place(problem: Problem) -> tuple[str, int]:
    """File and line of a problem, to tell them in the order of the file."""
    file, _, line = problem.where.rpartition(":")
    return (file, int(line)) if line.isdigit() else (problem.where, 0)
