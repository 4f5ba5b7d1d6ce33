"""The JSON Schema of a case and of a row of its trial, for editors: the models and the columns are its only source."""

from __future__ import annotations

from typing import Any

from docgen.case.awaited import Awaited
from docgen.case.base import Part, part_of
from docgen.case.by_name import EACH, LIKE, OTHERS, PRESENT, Form, form_of, form_of_list
from docgen.case.model import Case
from docgen.case.record import TRIAL, Column, Sheet
from docgen.case.session import SESSIONS
from docgen.case.short_form import ASKED
from docgen.case.totals import FILE as TOTALS_FILE
from docgen.case.totals import TOTALS

_ALONE = "false where nothing that the entries have in common holds of this one"
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
    case = {"$schema": "https://json-schema.org/draft/2020-12/schema"} | Case.model_json_schema() | {"title": PRESENT}
    models: tuple[type[Part], ...] = (Case, *_parts(Case))
    for model in models:
        named = case if model is Case else case["$defs"][model.__name__]
        for key, field in model.model_fields.items():
            part = part_of(field.annotation)
            if part and (form := form_of_list(field.annotation)):
                named["properties"][key] = _or_by_name(named["properties"][key], part, form)
    for part in _parts(Case):
        if form_of(part):
            entry = case["$defs"][part.__name__]
            like = {LIKE: {"type": "string", "description": "entry that has what this one does not say"}}
            if part is Awaited:
                like |= {of: {"type": "string", "description": f"what the {of} is to answer"} for of in ASKED}
            case["$defs"][f"{part.__name__}ByName"] = {
                **{key: value for key, value in entry.items() if key != "required"},
                "properties": {**entry["properties"], **like, EACH: {"const": False, "description": _ALONE}},
            }
    case["$defs"]["Row"] = schema_of_row("trial.csv", TRIAL)
    case["$defs"]["DayTotal"] = schema_of_row(TOTALS_FILE, TOTALS)
    case["$defs"]["SessionRow"] = schema_of_row("sessions.csv", SESSIONS)
    return case


def _parts(model: type[Part]) -> tuple[type[Part], ...]:
    """Every part of a case, once."""
    below: dict[type[Part], None] = {}
    for field in model.model_fields.values():
        if part := part_of(field.annotation):
            below |= {part: None, **dict.fromkeys(_parts(part))}
    return tuple(below)


def _or_by_name(many: dict[str, Any], part: type[Part], form: Form) -> dict[str, Any]:
    """A list of tables, or a table of its entries by their names."""
    entry = {"$ref": f"#/$defs/{part.__name__}ByName"}
    kinds = {"string": form.text, "boolean": form.yes, "number": form.number, "array": form.texts}
    of_kind: list[dict[str, Any]] = [{"type": kind} for kind, key in kinds.items() if key]
    if form.day and not form.text:
        of_kind.append({"type": "string", "format": "date"})
    if form.pair:
        of_kind.append(
            {
                "type": "array",
                "description": f"{form.pair[0]}, then {form.pair[1]}",
                "items": {"type": "string"},
                "minItems": 2,
                "maxItems": 2,
            }
        )
    words = {word: {"type": "array", "items": {"type": "string"}} for word in form.gathers}
    others = {OTHERS: {"type": "string"}} if form.others else {}
    by_name = {
        "type": "object",
        "properties": {EACH: entry, **words, **others},
        "additionalProperties": {"anyOf": [entry, *of_kind, {"type": "array", "items": {"anyOf": [entry, *of_kind]}}]},
    }
    apart = ("description", "default")
    return {
        "anyOf": [{key: value for key, value in many.items() if key not in apart}, by_name],
        **{key: value for key, value in many.items() if key in apart},
    }


def schema_of_row(file: str, sheet: Sheet) -> dict[str, Any]:
    """JSON Schema of one row of a sheet."""
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
