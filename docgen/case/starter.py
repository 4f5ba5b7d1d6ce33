"""A commented starter case, written from the same field descriptions that check and label a case."""

from __future__ import annotations

import json
import types
import typing
from datetime import date, time
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from docgen.case.model import Case
from docgen.case.record import COLUMNS

_HEADINGS = {
    "request": "who",
    "limits": "why",
    "spaces": "where",
    "alternatives": "what was ruled out",
    "trial": "what was tried",
    "configuration": "what is asked for",
    "letter": "in your own words",
    "cautions": "living with it",
}


def starter(case_id: str) -> str:
    """case.toml of a new case: every key, commented out, with its meaning and one example of its form."""
    lines = [
        "# A new case. Take the first # away from a key and write its value; leave out what is not known.",
        "# What is left out shows as not recorded. The forms at the end of a line are never content.",
        "# Lists are written as [[...]]: repeat the whole block for each entry.",
        'format = "docgen case 1"',
        f'id = "{case_id}"',
        "",
    ]
    for name, field in Case.model_fields.items():
        if name in ("format", "id", "invented"):
            continue
        if name in _HEADINGS:
            lines += [f"# ---- {_HEADINGS[name]} " + "-" * (90 - len(_HEADINGS[name])), ""]
        lines += _table(name, field)
    return "\n".join(lines).rstrip() + "\n"


def first_line() -> str:
    """trial.csv of a new case: the names of the columns, and no rows."""
    return ",".join(column.name for column in COLUMNS) + "\n"


def _table(path: str, field: FieldInfo) -> list[str]:
    model, repeated = _model(field.annotation)
    if model is None:
        return []
    opening = f"# [[{path}]]" if repeated else f"[{path}]"
    plain = [(n, f) for n, f in model.model_fields.items() if _model(f.annotation)[0] is None]
    inner = [(n, f) for n, f in model.model_fields.items() if _model(f.annotation)[0] is not None]
    lines = [f"# {field.description or path}", opening]
    # no value stands after the sign: an example left in by mistake would read as a measurement
    lines += [f"# {n} =".ljust(26) + f"# {_meaning(f)}" for n, f in plain]
    lines.append("")
    for n, f in inner:
        lines += _table(f"{path}.{n}", f)
    return lines


def _model(annotation: Any) -> tuple[type[BaseModel] | None, bool]:
    """The model a field holds, and whether it holds many."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation, False
    if typing.get_origin(annotation) is tuple:
        return _model(typing.get_args(annotation)[0])[0], True
    return None, False


def _example(field: FieldInfo) -> str:
    value = field.examples[0] if field.examples else field.default
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (date, time)):
        return value.isoformat()
    return json.dumps(list(value) if isinstance(value, tuple) else value, ensure_ascii=False)


def _meaning(field: FieldInfo) -> str:
    words = [json.dumps(choice) for choice in _choices(field.annotation)]
    return f"{field.description}: {', '.join(words)}" if words else f"{field.description}; form: {_example(field)}"


def _choices(annotation: Any) -> list[str]:
    if typing.get_origin(annotation) is typing.Literal:
        return [str(choice) for choice in typing.get_args(annotation)]
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        return [choice for part in typing.get_args(annotation) for choice in _choices(part)]
    return []
