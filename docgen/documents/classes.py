"""Which classes of privacy a key of any table carries: of the case by its models, of what follows by what it is made
from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

import docgen.documents
from docgen.case.base import Part, part_of
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.discover import modules_in
from docgen.documents.made_from import ALL, Classes, MadeFrom, classes_of_key, made_from
from docgen.figures.draw import figures

# told of by tables made from it: who someone is depends on the role
_NOT_SHOWN_AS_IT_STANDS = ("format", "id", "invented", "people", "visits")


def case_tables() -> tuple[str, ...]:
    """Tables of the case that a document may show as they stand."""
    return tuple(name for name in Case.model_fields if name not in _NOT_SHOWN_AS_IT_STANDS)


@cache
def declared() -> Mapping[str, MadeFrom]:
    """Each table made from the case, found in the MADE_FROM of the modules here."""
    return {name: sources for module in modules_in(docgen.documents) for name, sources in _declared_in(module).items()}


def _declared_in(module: object) -> Mapping[str, MadeFrom]:
    return getattr(module, "MADE_FROM", {})


def classes_of(table: str, key: str) -> Classes | None:
    """The classes that a key of a table carries, those of all keys for "*"; None when no such key has any.

    table  as [shows] names it: dotted, where it stands in another
    """
    if (sources := declared().get(table) or declared().get(table.partition(".")[0])) is not None:
        return sources.classes(key) or None
    first, *rest = table.split(".")
    if first not in case_tables() or not _is_table([first, *rest]):
        return None
    try:
        return classes_of_key(table if key == ALL else f"{table}.{key}")
    except KeyError:
        return None


def classes_of_drawing(name: str) -> Classes:
    """The classes that a drawing carries. KeyError when there is no such drawing; ValueError when it is made from what
    is no key of a case."""
    keys = figures()[name].MADE_FROM
    try:
        return made_from(*keys).shared
    except KeyError as unknown:
        raise ValueError(f"docgen/figures/{name}.py: MADE_FROM names no key of a case: {unknown}") from None


def unclassed(tables: Mapping[str, Any]) -> tuple[str, ...]:
    """Tables laid out, and keys of them, that nothing gives a class."""
    sources, of_case = declared(), case_tables()
    return tuple(name for name in tables if name not in sources and name not in of_case) + tuple(
        f"{name}.{key}"
        for name, table in tables.items()
        for row in (table[:1] if isinstance(table, tuple) else (table,))
        if name in sources and isinstance(row, Mapping)
        for key in row
        if key != "_labels" and not sources[name].classes(key)
    )


def hidden(classes: Classes, may_see: Iterable[Privacy]) -> str:
    """The classes that a reader may not see, in words; empty when there are none."""
    return ", ".join(sorted(classes - frozenset(may_see)))


def _is_table(path: list[str]) -> bool:
    model: type[Part] | None = Case
    for name in path:
        if model is None or name not in model.model_fields:
            return False
        model = part_of(model.model_fields[name].annotation)
    return model is not None
