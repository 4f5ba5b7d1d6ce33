"""The keys of a case by their path: what stands there, what form a value has, and stand-ins of that form.

A stand-in exists to ask a criterion what it would say; it is never printed and never leaves the program.
"""

from __future__ import annotations

import typing
from datetime import date
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.sentences import listed

# key that names an entry of a list -> that list
_REFERS = {
    "method": ("trial", "methods"),
    "profile": ("configuration", "profiles"),
    "by": ("people",),
    "who": ("people",),
    "coach": ("people",),
    "because": ("findings",),
    "features": ("configuration", "features"),
    "signed_by": ("people",),
    "completed_by": ("people",),
}
_NOT_IDS = ("supervision",)  # its `by` is words


def value_at(case: Case, path: KeyPath, default: Any = None) -> Any:
    """What stands at a path, or the default where no such key or entry is."""
    node: Any = case
    for part in path:
        if isinstance(part, int):
            node = node[part] if isinstance(node, tuple) and part < len(node) else default
        else:
            node = getattr(node, part) if part in getattr(type(node), "model_fields", {}) else default
    return node


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


def table_at(path: KeyPath) -> type[BaseModel] | None:
    """The model of the table a path leads to: a table, or an entry of a list of tables; None for a key or a whole
    list."""
    model: Any = Case
    entry = True
    for part in path:
        if isinstance(part, int):
            entry = True
            continue
        field = getattr(model, "model_fields", {}).get(part)
        if field is None:
            return None
        inner = _bare(field.annotation)
        entry = get_origin(inner) is not tuple
        model = _bare(get_args(inner)[0]) if not entry else inner
    return model if entry and isinstance(model, type) and issubclass(model, BaseModel) else None


def keys_at(path: KeyPath) -> dict[str, FieldInfo]:
    """The keys that the table at a path may hold; none where the path leads to no table."""
    model = table_at(path)
    return dict(model.model_fields) if model else {}


def entries_at(path: KeyPath) -> type[BaseModel] | None:
    """The model of the entries of a list of tables; None when the path leads to anything else."""
    return table_at((*path, 0)) if path and table_at(path) is None else None


def stand_ins(case: Case, path: KeyPath) -> tuple[Any, ...]:
    """Values of the right form for a key, likeliest first; none where no form is known."""
    field = _field(path)
    if field is None:
        return ()
    kind, key = _bare(field.annotation), str(path[-1])
    if _refers(path, kind):
        ids = tuple(entry.id for entry in value_at(case, _REFERS[key]))
        return tuple((entry_id,) for entry_id in ids) if get_origin(kind) is tuple else ids
    example = next(iter(field.examples or ()), None)
    if example is None:
        return ()
    # of words and of yes and no only the likeliest: another, such as "nothing rules it out", would settle a point by
    # giving it up
    if kind is date:
        return (example, *_recorded(case))
    if kind in (int, float):
        return (example, kind(example * 4), kind(example / 4))
    if get_origin(kind) is tuple:
        return (get_args(_inner(kind)) or _codes(case, key) or tuple(example),)
    return (example,)


def form(path: KeyPath) -> str:
    """How a value of this key is written, never what it is: "<license number>", <date, as YYYY-MM-DD>."""
    field = _field(path)
    if field is None:
        return "<value>"
    kind = _bare(field.annotation)
    if get_origin(kind) is Literal:
        return f"<{_choices(kind, 'or')}>"
    if kind is bool:
        return "<true or false>"
    if kind is date:
        return "<YYYY-MM-DD>"
    if kind in (int, float):
        return f"<number: {field.description}>"
    if get_origin(kind) is tuple:
        return (
            f"[<those that hold of {_choices(_inner(kind), 'and')}>]"
            if get_origin(_inner(kind)) is Literal
            else f'["<{field.description}>"]'
        )
    return (
        f'"<id of an entry of [[{".".join(_REFERS[str(path[-1])])}]]>"'
        if _refers(path, kind)
        else f'"<{field.description}>"'
    )


def _refers(path: KeyPath, kind: Any) -> bool:
    """Whether a key names an entry of a list by its id."""
    return str(path[-1]) in _REFERS and path[0] not in _NOT_IDS and get_origin(kind) is not Literal


def _inner(kind: Any) -> Any:
    """What a list holds."""
    return _bare(get_args(kind)[0])


def _choices(kind: Any, last: str) -> str:
    return listed((f'"{choice}"' for choice in get_args(kind)), last)


def _codes(case: Case, key: str) -> tuple[str, ...]:
    """The codes asked for, the base first, as a paper that agrees with them would name them."""
    if key != "codes":
        return ()
    return tuple(
        code for code in (case.configuration.chair.base_code, *(item.code for item in case.configuration.items)) if code
    )


def _field(path: KeyPath) -> Any:
    model = table_at(path[:-1])
    return model.model_fields.get(str(path[-1])) if model and path else None


def _bare(annotation: Any) -> Any:
    """The type itself: without None, limits and other notes."""
    if get_origin(annotation) is Annotated:
        return _bare(get_args(annotation)[0])
    if get_origin(annotation) in (typing.Union, type(int | None)):
        return _bare(next(part for part in get_args(annotation) if part is not type(None)))
    return annotation


def _recorded(case: Case) -> tuple[date, ...]:
    """The recorded days of the request, earliest first."""
    return tuple(
        sorted({value for name in type(case.dates).model_fields if (value := getattr(case.dates, name)) is not None})
    )
