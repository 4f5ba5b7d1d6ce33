"""Every key that names an entry by its id: the id of nothing is refused where it stands, with the nearest there is."""

from __future__ import annotations

import re
import typing
from collections.abc import Iterator
from typing import Any

from gathered import of_each
from pydantic.fields import FieldInfo

from docgen.case.base import Part, part_of
from docgen.case.consistency import inconsistencies
from docgen.case.lines import KeyPath, dotted
from docgen.case.model import Case
from docgen.case.read import frozen as frozen

# what another vocabulary holds than the lists of the case, each refused by a test of its own
NOT_OF_THE_CASE = {"setting", "ask", "device", "methods"}
IS_NOTHING = re.compile("'nobody_els' is (not an id in|no place in)")


def _holds_id(field: FieldInfo) -> bool:
    kinds = [field.annotation, *typing.get_args(field.annotation)]
    marks = [*field.metadata, *(mark for kind in kinds for mark in getattr(kind, "__metadata__", ()))]
    return any(getattr(mark, "pattern", None) == r"^[a-z][a-z0-9_]{0,39}$" for mark in marks)


def _naming(model: type[Part], path: KeyPath = ()) -> Iterator[KeyPath]:
    """Keys that name another entry, each in the first entry of its list."""
    for name, field in model.model_fields.items():
        inner = part_of(field.annotation)
        if inner is not None:
            yield from _naming(
                inner, (*path, name, 0) if typing.get_origin(field.annotation) is tuple else (*path, name)
            )
        elif _holds_id(field) and name != "id" and name not in NOT_OF_THE_CASE:
            yield *path, name


def _filled(model: type[Part]) -> dict[str, Any]:
    """What a table cannot do without, as its own examples have it; hours of a week have a start and an end too."""
    return {
        name: field.examples[0]
        for name, field in model.model_fields.items()
        if field.examples and (field.is_required() or name in ("starts_at", "ends_at"))
    }


def _with(path: KeyPath, wrong: str) -> Case:
    raw: dict[str, Any] = {
        "format": "docgen case 1",
        "id": "small",
        "people": [{"id": "nobody_else", "role": "evaluator"}],
    }
    node, model = raw, Case
    for part, after in zip(path, path[1:], strict=False):
        if isinstance(part, int):
            node = node[part]
            continue
        field = model.model_fields[str(part)]
        inner = part_of(field.annotation)
        assert inner is not None
        model = inner
        node = node.setdefault(part, [_filled(model)] if isinstance(after, int) else _filled(model))
    is_list = typing.get_origin(model.model_fields[str(path[-1])].annotation) is tuple
    node[path[-1]] = [wrong] if is_list else wrong
    return Case.model_validate(frozen(raw))


@of_each("path", tuple(_naming(Case)), ids=dotted)
def test_an_id_of_nothing_is_refused_where_it_stands(path: KeyPath):
    problems = inconsistencies(
        _with(path, "nobody_els"),
        lambda *at: dotted(at),
        lambda at: f"row {at}",
        lambda at: f"total {at}",
        lambda at: f"session {at}",
    )
    [problem] = [p for p in problems if p.where == dotted(path) and IS_NOTHING.search(p.what)]
    if "[[people]]" in problem.what:
        assert problem.do.startswith("Did you mean 'nobody_else'?")
