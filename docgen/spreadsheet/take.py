"""One call from a file to what was made of it, and the ids of a case that its names are held against."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

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
from docgen.case.stage import STAGES, STEPS, TASKS, stage_of, step_words
from docgen.case.toml import read_toml
from docgen.case.totals import TOTALS
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
    known = _known_of(folder)
    grids = grids_of(source)
    ids, read = known.of_trial, understood(grids, known.of_trial, answers)
    if _is_lessons(read, known.delivered_on):
        ids, read = known.of_lessons, understood(grids, known.of_lessons, answers, known.steps)
        if read.sheet is TOTALS:
            _refuse_totals_of_lessons(source)
    if read.nameless:
        raise UserError(
            _lacking(folder / "case.toml", kind, names, ("trial", f"{kind}s") in known.by_name)
            for kind, names in read.nameless.items()
        )
    if read.unused and not read.questions:
        raise UserError(
            Problem("--map", f"'{key}' answers no question about this file", "Leave it out, or look at its spelling.")
            for key in read.unused
        )
    problems = () if read.questions else tuple(checked(read, source, ids))
    return Taken(read, file_of(read, known.rows_name), known.rows_name, problems)


def _is_lessons(read: Understood, delivered_on: date | None) -> bool:
    """Whether a sheet holds tries of lessons, which would count as evidence of a trial: it names steps of training and
    no control, or all of its days come after the delivery."""
    days = [row["date"] for row in read.rows if row.get("date")]
    after = bool(delivered_on and days and min(days) > delivered_on.isoformat())
    return after or ("stage" in read.headed and "method" not in read.headed)


def _refuse_totals_of_lessons(source: Path) -> None:
    """Raise UserError for sums of lessons: what a step of training asks, such as stops in a row, no sum can tell."""
    what = "holds sums of each session, and whether a step is passed is told from its single tries"
    do = (
        f"Take a sheet with one row a try ({', '.join(SESSIONS.required)}), as data_sheets has them; none is made up. "
        "Sums alone stand in case.toml, one line a session below [training.totals]: "
        '2026-09-24 = { task = "start and stop", tries = 10, done = 9, minutes = 30, place = "hall at home" }'
    )
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
    keys = {key: f"name = {toml_of(name)}{shows}" for name, key in ids.items()}
    lines = [f"{key} = {{ {rest} }}" if by_name else f'{head} id = "{key}", {rest}' for key, rest in keys.items()]
    other = ', with "steer", "stop", "place" or "other" for ?' if shows else ""
    return Problem(
        str(path),
        f"has no {kind} in {head} yet, and the rows name {', '.join(map(repr, names))}",
        f"Write first{f', below {head}' if by_name else ''}{other}: {'; '.join(lines)}",
    )


class _Known(Struct, frozen=True):
    """What of a case its sheets are held against; the rest of it may still be unfinished.

    of_trial      method and task -> ids with their names
    of_lessons    task and stage -> ids with their names
    steps         id of a task of lessons -> the step of training that it belongs to
    rows_name     its file of rows
    by_name       lists that it writes by name
    delivered_on  None where nothing is delivered
    """

    of_trial: dict[str, Ids]
    of_lessons: dict[str, Ids]
    steps: dict[str, str]
    rows_name: str
    by_name: frozenset[KeyPath]
    delivered_on: date | None


def _known_of(folder: Path) -> _Known:
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
    methods, tasks, spaces = _ids(trial, "methods"), _ids(trial, "tasks"), _ids(lists.tables, "spaces")
    of_stages = {task: task.replace("_", " ") for task in TASKS}
    return _Known(
        {"method": methods, "task": tasks},
        {"task": {**of_stages, **spaces, **tasks}, "stage": {stage.id: step_words(stage.number) for stage in STAGES}},
        _steps(lists.tables),
        rows_file(text.encode()),
        lists.by_name,
        delivered_on,
    )


def _steps(tables: Mapping[str, Any]) -> dict[str, str]:
    """The step of training that each task of lessons belongs to, the places of the case among them."""
    spaces = _with_id(tables, "spaces")
    places = {space["id"]: STEPS[stage_of(space.get("at_home"), space.get("kind"))] for space in spaces}
    return {task: stage.id for stage in STAGES for task in stage.tasks} | places


def _ids(table: object, name: str) -> dict[str, str]:
    return {entry["id"]: str(entry.get("name", entry["id"])) for entry in _with_id(table, name)}


def _with_id(table: object, name: str) -> list[dict[str, Any]]:
    """The entries of a list that have an id; the rest of the file may still be unfinished."""
    entries = table.get(name) if isinstance(table, dict) else None
    listed = [entry for entry in entries if isinstance(entry, dict)] if isinstance(entries, list) else []
    return [entry for entry in listed if isinstance(entry.get("id"), str)]
