"""The JSON Schema of a case and of a row of its trial, for editors: the models and the columns are its only source."""

from __future__ import annotations

from typing import Any

from docgen.case.model import Case
from docgen.case.record import TRIAL, Column, Sheet
from docgen.case.session import SESSIONS
from docgen.case.totals import FILE as TOTALS_FILE
from docgen.case.totals import TOTALS

_TYPES = {
    "date": "string",
    "id": "string",
    "words": "string",
    "yes_no": "boolean",
    "count": "integer",
    "number": "number",
    "step": "string",
    "prompt": "string",
    "scale": "number",
}


def schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of case.toml; `$defs.Row` is a row of trial.csv, `$defs.DayTotal` one of totals.csv,
    `$defs.SessionRow` one of sessions.csv."""
    case = (
        {"$schema": "https://json-schema.org/draft/2020-12/schema"}
        | Case.model_json_schema()
        | {"title": "docgen case 1"}
    )
    case["$defs"]["Row"] = _row("trial.csv", TRIAL)
    case["$defs"]["DayTotal"] = _row(TOTALS_FILE, TOTALS)
    case["$defs"]["SessionRow"] = _row("sessions.csv", SESSIONS)
    return case


def _row(file: str, sheet: Sheet) -> dict[str, Any]:
    return {
        "type": "object",
        "title": f"one row of {file}",
        "additionalProperties": False,
        "required": list(sheet.required),
        "properties": {column.name: _property(column) for column in sheet.columns},
    }


def _property(column: Column) -> dict[str, Any]:
    if column.kind == "numbers":
        each = {"type": "number", "minimum": 0, "maximum": column.high}
        return {"type": "array", "items": each, "description": column.means, "x-unit": column.unit}
    described: dict[str, Any] = {"type": _TYPES[column.kind], "description": column.means}
    if column.kind == "date":
        described["format"] = "date"
    if described["type"] in ("integer", "number"):
        described |= {"minimum": 0, "maximum": column.high} | ({"x-unit": column.unit} if column.unit else {})
    return described
