"""The ids of a case that the names of a sheet are held against, read from a case that may still be unfinished."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from msgspec import Struct

from docgen.case.by_name import spread
from docgen.case.files import text_of
from docgen.case.forgiving import day_of
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.read import MAX_TOML_BYTES, rows_file
from docgen.case.stage import STAGES, STEPS, TASK_NAMES, TASKS, stage_of, step_words
from docgen.case.toml import read_toml
from docgen.errors import Problem
from docgen.spreadsheet.sifting import Ids


class Known(Struct, frozen=True):
    """What of a case its sheets are held against; the rest of it may still be unfinished.

    of_trial      method and task -> ids with their names
    stop_tasks    ids of the tasks of the trial that show a stop
    of_lessons    task and stage -> ids with their names
    steps         id of a task of lessons -> the step of training that it belongs to
    rows_name     its file of rows
    by_name       lists that it writes by name
    delivered_on  None where nothing is delivered
    """

    of_trial: dict[str, Ids]
    stop_tasks: tuple[str, ...]
    of_lessons: dict[str, Ids]
    steps: dict[str, str]
    rows_name: str
    by_name: frozenset[KeyPath]
    delivered_on: date | None


def known_of(folder: Path) -> Known:
    """What its sheets are held against. Raises UserError where case.toml cannot be read as TOML."""
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
    of_stages = {task: TASK_NAMES[task] for task in TASKS}
    return Known(
        {"method": methods, "task": tasks},
        tuple(entry["id"] for entry in _with_id(trial, "tasks") if entry.get("shows") == "stop"),
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
