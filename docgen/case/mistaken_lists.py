"""How a list without names is written, and which line of an order lacks its name, for messages."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from pydantic.fields import FieldInfo

from docgen.case.base import part_of
from docgen.case.by_name import form_of_list
from docgen.case.lines import KeyPath
from docgen.errors import brief


def entry_form(path: KeyPath, field: FieldInfo | None, written: Callable[[Any], str]) -> str:
    """How a list of entries without names is written: one with what it cannot do without; "" for any other key.

    written  a value as TOML writes it
    """
    inner = part_of(field.annotation) if field else None
    if field is None or inner is None or form_of_list(field.annotation) is not None:
        return ""
    needed = {name: key for name, key in inner.model_fields.items() if key.is_required()}
    pairs = ", ".join(f"{name} = {written(key.examples[0])}" for name, key in needed.items() if key.examples)
    return f"Write it as: {path[-1]} = [{{ {pairs} }}]."


def code_at(path: KeyPath, raw: Mapping[str, Any]) -> str:
    """The code of the line whose name this path is; "" where it has none."""
    entry: Any = raw if path[-1] == "name" else {}
    for part in path[:-1] if entry else ():
        entry = entry[part]
    code = entry.get("code") if isinstance(entry, Mapping) else None
    return brief(code) if isinstance(code, str) else ""
