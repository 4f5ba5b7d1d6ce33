"""A demo case without its short forms: as tables, and as text in which every entry says all it has."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import tomli

from docgen.case.by_name import spread
from docgen.case.lines import lines_of
from docgen.case.model import Case
from docgen.case.short_form import written_out


def tables_in_full(folder: Path) -> dict[str, Any]:
    """The tables of case.toml as its model reads them, each entry with its own day and person; free to be changed."""
    text = (folder / "case.toml").read_text(encoding="utf-8")
    lists = spread(tomli.loads(text), lines_of(text), Case, lambda *path: "case.toml:1").tables
    return _listed(written_out(lists, Case))


def text_in_full(folder: Path) -> str:
    """case.toml with every list as [[...]], every key on a line of its own."""
    tables = tables_in_full(folder)
    plain = {key: value for key, value in tables.items() if not isinstance(value, dict) and not _is_many(value)}
    rest = {key: value for key, value in tables.items() if key not in plain}
    return "\n".join([*_pairs(plain), "", *_tables(rest, "")]) + "\n"


def file_in_full(path: Path) -> str:
    """Text of a file of a case folder, of case.toml without short forms."""
    return text_in_full(path.parent) if path.name == "case.toml" else path.read_text(encoding="utf-8")


def write_in_full(folder: Path) -> Path:
    """The same folder, its case.toml written without short forms."""
    (folder / "case.toml").write_text(text_in_full(folder), encoding="utf-8")
    return folder


def _listed(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _listed(inner) for key, inner in value.items() if key != "visit"}
    return [_listed(entry) for entry in value] if isinstance(value, (list, tuple)) else value


def _is_many(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and isinstance(value[0], dict)


def _tables(tables: dict[str, Any], path: str) -> Iterator[str]:
    for key, value in tables.items():
        name = f"{path}{key}"
        for table in value if isinstance(value, list) else [value]:
            yield f"[[{name}]]" if isinstance(value, list) else f"[{name}]"
            inner = {key: below for key, below in table.items() if isinstance(below, dict) or _is_many(below)}
            yield from _pairs({key: below for key, below in table.items() if key not in inner})
            yield ""
            yield from _tables(inner, f"{name}.")


def _pairs(table: dict[str, Any]) -> Iterator[str]:
    for key, value in table.items():
        yield f"{key} = {_value(value)}"


def _value(value: Any) -> str:
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    if isinstance(value, (bool, str)):
        return json.dumps(value, ensure_ascii=False)
    return value.isoformat() if hasattr(value, "isoformat") else repr(value)
