"""The keys of a case by their path: what stands there, and of what table it is."""

from __future__ import annotations

import typing
from datetime import date
from functools import cache, lru_cache
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from docgen.case.base import Part, fields_of
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.privacy import Privacy

_PATHS_KEPT = 5_000  # every key of a case, and those of many entries


def value_at(case: Case, path: KeyPath, default: Any = None) -> Any:
    """What stands at a path, or the default where no such key or entry is."""
    node: Any = case
    for part in path:
        if isinstance(part, int):
            node = node[part] if isinstance(node, tuple) and part < len(node) else default
        else:
            node = getattr(node, part) if isinstance(node, Part) and part in fields_of(type(node)) else default
    return node


def texts_in(node: object, path: KeyPath = ()) -> list[tuple[KeyPath, str]]:
    """Every text of a case, or of a part of it that stands at the path, with its key path."""
    texts: list[tuple[KeyPath, str]] = []
    _gather_texts(node, path, texts)
    return texts


def _gather_texts(node: object, path: KeyPath, texts: list[tuple[KeyPath, str]]) -> None:
    if isinstance(node, str):
        texts.append((path, node))
    elif isinstance(node, tuple):
        for at, entry in enumerate(node):
            _gather_texts(entry, (*path, at), texts)
    elif isinstance(node, BaseModel):
        for name in _may_hold_text(type(node)):
            if (value := getattr(node, name)) is not None:
                _gather_texts(value, (*path, name), texts)


@cache
def _may_hold_text(kind: type[BaseModel]) -> tuple[str, ...]:
    """Keys that are no number, no day and no yes or no, whatever else they hold."""
    return tuple(name for name, field in kind.model_fields.items() if not _is_textless(field.annotation))


def _is_textless(annotation: Any) -> bool:
    if get_origin(annotation) in (typing.Union, type(int | None)):
        return all(map(_is_textless, get_args(annotation)))
    return bare_kind(annotation) in (bool, int, float, date, type(None))


def with_value(case: Case, path: KeyPath, value: Any) -> Case:
    """The case with another value at a path that leads to a key or an entry."""
    changed: Case = _put(case, path, value)
    return changed


def _put(node: Any, path: KeyPath, value: Any) -> Any:
    if not path:
        return value
    first, rest = path[0], path[1:]
    if isinstance(first, int):
        return (*node[:first], _put(node[first], rest, value), *node[first + 1 :])
    return node.model_copy(update={str(first): _put(getattr(node, str(first)), rest, value)})


@lru_cache(_PATHS_KEPT)
def table_at(path: KeyPath) -> type[BaseModel] | None:
    """The model of the table a path leads to: a table, or an entry of a list of tables; None for a key or a whole
    list."""
    model: Any = Case
    entry = True
    for part in path:
        if isinstance(part, int):
            entry = True
            continue
        field = fields_of(model).get(part) if isinstance(model, type) and issubclass(model, BaseModel) else None
        if field is None:
            return None
        inner = bare_kind(field.annotation)
        entry = get_origin(inner) is not tuple
        model = bare_kind(get_args(inner)[0]) if not entry else inner
    return model if entry and isinstance(model, type) and issubclass(model, BaseModel) else None


def keys_at(path: KeyPath) -> dict[str, FieldInfo]:
    """The keys that the table at a path may hold; none where the path leads to no table."""
    model = table_at(path)
    return dict(fields_of(model)) if model else {}


def entries_at(path: KeyPath) -> type[BaseModel] | None:
    """The model of the entries of a list of tables; None when the path leads to anything else."""
    return table_at((*path, 0)) if path and table_at(path) is None else None


def bare_kind(annotation: Any) -> Any:
    """The type itself: without None, limits and other notes."""
    if get_origin(annotation) is Annotated:
        return bare_kind(get_args(annotation)[0])
    if get_origin(annotation) in (typing.Union, type(int | None)):
        return bare_kind(next(part for part in get_args(annotation) if part is not type(None)))
    return annotation


def choices_in(annotation: Any) -> tuple[str, ...]:
    """The words that a value of this type can be; none where it may be any."""
    kind = bare_kind(annotation)
    return get_args(kind) if get_origin(kind) is Literal else ()


def class_at(case: Case, path: KeyPath) -> Privacy | None:
    """The class of privacy of a key, of its very entry where that is there; None where there is no such key."""
    entry, model = value_at(case, path[:-1]), table_at(path[:-1])
    if isinstance(entry, Part):
        return entry.privacy(str(path[-1]))
    return model.privacy_of(str(path[-1])) if model is not None and issubclass(model, Part) else None
