"""A case folder -> a Case, or every problem in it at once, each with its file and line."""

from __future__ import annotations

import re
import tomllib
import typing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from docgen.case.consistency import inconsistencies
from docgen.case.files import text_of
from docgen.case.lines import Path as KeyPath
from docgen.case.lines import line_for, lines_of
from docgen.case.model import Case
from docgen.case.rows import read_rows
from docgen.errors import Problem, UserError, did_you_mean

MAX_TOML_BYTES = 512_000
MAX_CSV_BYTES = 20_000_000


@dataclass(frozen=True, slots=True)
class CaseFile:
    """A case as read: the case, its folder, and where each key stands."""

    case: Case
    folder: Path
    lines: dict[KeyPath, int]
    text: str

    def where(self, *path: str | int) -> str:
        """File and line of a key, or of the nearest table above it that is written down."""
        return f"{self.folder / 'case.toml'}:{line_for(self.lines, path)}"

    def row_where(self, line: int) -> str:
        """File and line of a row of the trial."""
        return f"{self.folder / self.case.trial.rows}:{line}"


def read_case(path: Path) -> CaseFile:
    """The case in a folder, or in the case.toml named. Raises UserError with every problem found."""
    folder = path.parent if path.name == "case.toml" and not path.is_dir() else path
    toml = folder / "case.toml"
    text = text_of(toml, str(toml), MAX_TOML_BYTES,
                   Problem(str(folder), "holds no case.toml", "Name a case folder, or start one with 'docgen new ID'."))
    raw = _parsed(text, toml)
    lines = lines_of(text)

    def where(*key_path: str | int) -> str:
        return f"{toml}:{line_for(lines, key_path)}"

    if not raw:
        raise UserError([Problem(f"{toml}:1", "is empty", "Start a case with 'docgen new ID'.")])
    case, problems = _validated(raw, where)
    rows, row_problems, csv_path = _records(raw, folder, where)
    problems += row_problems
    if case is not None:
        if case.id != folder.resolve().name:
            problems.append(Problem(where("id"), f"the id is '{case.id}' but the folder is '{folder.resolve().name}'",
                                    "Give both the same name."))
        case = case.with_records(rows)
        problems += inconsistencies(case, where, lambda line: f"{csv_path}:{line}")
    if problems or case is None:
        raise UserError(sorted(problems, key=_by_place))
    return CaseFile(case, folder, lines, text)


def _parsed(text: str, toml: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as failure:
        message, _, place = str(failure).rpartition(" (at ")
        line = re.match(r"line (\d+)", place)
        at = line.group(1) if line else str(text.count("\n") + 1)
        message = message or str(failure).replace("(at end of document)", "").strip()
        raise UserError([Problem(f"{toml}:{at}", f"is not valid TOML: {message[:1].lower()}{message[1:]}",
                                 _toml_advice(message))]) from None
    except (RecursionError, ValueError) as failure:
        raise UserError([Problem(f"{toml}:1", f"is not valid TOML: {str(failure) or 'it is nested too deep'}",
                                 "Start from 'docgen new ID'.")]) from None


def _toml_advice(message: str) -> str:
    if "Invalid value" in message:
        return 'Text stands in "quotes", dates as 2026-03-31 without quotes, yes and no as true and false.'
    if "overwrite" in message.lower() or "twice" in message or "declare" in message.lower():
        return "The same key stands twice in this table; keep one."
    if "date" in message.lower() or "time" in message.lower():
        return "Write dates as 2026-03-31; check that there is such a day."
    return "Check the quotes and brackets on this line and the one above."


def _frozen(value: Any) -> Any:
    """Lists as tuples, so that strict models take them."""
    if isinstance(value, list):
        return tuple(_frozen(one) for one in value)
    if isinstance(value, dict):
        return {name: _frozen(one) for name, one in value.items()}
    return value


def _validated(raw: dict[str, Any], where: Any) -> tuple[Case | None, list[Problem]]:
    try:
        return Case.model_validate(_frozen(raw)), []
    except ValidationError as failure:
        return None, [_problem(error, where) for error in failure.errors(include_url=False)]


def _records(raw: dict[str, Any], folder: Path, where: Any) -> tuple[tuple[Any, ...], list[Problem], Path]:
    trial = raw.get("trial")
    trial = trial if isinstance(trial, dict) else {}
    name = trial.get("rows", "trial.csv")
    path = folder / "trial.csv"
    if not isinstance(name, str):
        return (), [], path  # reported with the other keys
    if name != Path(name).name or name in ("", ".", "..") or "\0" in name:
        return (), [Problem(where("trial", "rows"), f"'{name}' leads out of the case folder",
                            "Name a file that stands beside case.toml.")], path
    path = folder / name
    if path.is_symlink() and path.resolve().parent != folder.resolve():
        return (), [Problem(where("trial", "rows"), f"'{name}' is a link that leads out of the case folder",
                            "Put the file itself beside case.toml.")], path
    try:
        text = text_of(path, str(path), MAX_CSV_BYTES,
                       Problem(where("trial", "rows"), f"the rows of the trial are missing: there is no file '{name}'",
                               "Put the CSV beside case.toml; with no trial yet, its first line alone will do."))
    except UserError as failure:
        return (), list(failure.problems), path
    rows, problems = read_rows(text, str(path), _ids(trial.get("methods")), _ids(trial.get("tasks")))
    return rows, problems, path


def _ids(parts: Any) -> set[str] | None:
    if parts is None:
        return set()
    if not isinstance(parts, list) or not all(isinstance(part, dict) for part in parts):
        return None
    return {part["id"] for part in parts if isinstance(part.get("id"), str)}


def _by_place(problem: Problem) -> tuple[str, int]:
    file, _, line = problem.where.rpartition(":")
    return (file, int(line)) if line.isdigit() else (problem.where, 0)


def _problem(error: Any, where: Any) -> Problem:
    """One pydantic error in our words."""
    path = tuple(error["loc"])
    name = ".".join(str(part) for part in path if not isinstance(part, int)) or "the case"
    value, kind, context = error.get("input"), error["type"], error.get("ctx") or {}
    shown = f"'{value}'" if isinstance(value, str) else str(value)
    shown = shown if len(shown) <= 60 else shown[:57] + "..."
    match kind:
        case "extra_forbidden":
            return Problem(where(*path), f"unknown key '{path[-1]}'", did_you_mean(str(path[-1]), _fields(path[:-1])))
        case "missing":
            return Problem(where(*path), f"{name} is missing", _form(path))
        case "literal_error":
            expected = re.findall(r"'([^']*)'", str(context.get("expected", "")))
            hint = did_you_mean(value, expected) if isinstance(value, str) else f"Allowed: {', '.join(expected)}."
            return Problem(where(*path), f"{name} is {shown}, which is not one of its values", hint)
        case "value_error":
            return Problem(where(*path), f"{name} {context['error']}")
        case "string_pattern_mismatch":
            return Problem(where(*path), f"{name} is {shown}, which is not of the right form", _form(path))
        case "date_type" | "date_from_datetime_inexact":
            return Problem(where(*path), f"{name} is {shown}, which is not a date", "Write it as 2026-03-31, without quotes.")
    message = str(error["msg"]).removeprefix("Input ")
    return Problem(where(*path), f"{name} is {shown}: it {message[:1].lower()}{message[1:]}", _form(path))


def _field(path: KeyPath) -> Any:
    """The field of the model that a key path leads to, or None."""
    model: Any = Case
    field = None
    for part in path:
        if isinstance(part, int):
            continue
        field = getattr(model, "model_fields", {}).get(part)
        if field is None:
            return None
        model = _model_in(field.annotation)
    return field


def _model_in(annotation: Any) -> Any:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in typing.get_args(annotation) if (found := _model_in(part)) is not None), None)


def _fields(path: KeyPath) -> list[str]:
    if not path:
        return list(Case.model_fields)
    field = _field(path)
    model = _model_in(field.annotation) if field else None
    return list(model.model_fields) if model else []


def _form(path: KeyPath) -> str:
    field = _field(path)
    if field is None:
        return ""
    example = f" Its form: {field.examples[0]}." if field.examples else ""
    return f"It holds: {field.description}.{example}"
