"""The keys of a case as a copy about nobody sees them: days, ids, public codes, free text."""

from __future__ import annotations

import typing
from collections.abc import Callable, Iterable, Iterator
from datetime import date, timedelta
from typing import Any

from pydantic import StringConstraints
from pydantic.fields import FieldInfo

from docgen.case.base import Part
from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.case.totals import Tried

# public codes, never words; zone and rows are replaced by hand
_CODED = frozenset(
    (
        "format",
        "code",
        "of",
        "base_code",
        "modifier",
        "codes",
        "diagnosis_codes",
        "questions",
        "setting",
        "zone",
        "rows",
    )
    + ("level", "ask", "serves", "row", "conflict")  # ids of a condition's file
)
ID_COLUMNS = ("method", "task", "changed_profile")  # of the rows: they hold ids of the case's own
CODED_COLUMNS = ("changed_setting",)  # they hold words of a closed list


def texts(case: Case) -> Iterator[str]:
    """Every free text once."""
    words = (
        value
        for value, name, field in _leaves(case)
        if isinstance(value, str) and field and not is_coded(name, field) and not is_id(field)
    )
    cells = (
        getattr(row, name)
        for row in _rows(case)
        for name in row.__struct_fields__
        if name not in (*ID_COLUMNS, *CODED_COLUMNS)
    )
    yield from dict.fromkeys((*words, *(value for value in cells if isinstance(value, str))))


def ids(case: Case) -> Iterator[str]:
    """Every id once, but that of the case itself."""
    yield from dict.fromkeys(
        value
        for value, name, field in _leaves(case)
        if isinstance(value, str) and field and not is_coded(name, field) and is_id(field) and value != case.id
    )


def days(case: Case) -> Iterator[date]:
    """Every day of a case but the birth date."""
    yield from (value for value, name, _ in _leaves(case) if isinstance(value, date) and name != "born_on")
    yield from (row.date for row in _rows(case))


def weeks_apart(case: Case, weeks: Iterable[int]) -> int:
    """The first number of weeks that moves no day of the case onto another of its days; else the first of all."""
    own_days, given = set(days(case)), list(weeks)
    return next((n for n in given if not own_days & {day + timedelta(weeks=n) for day in own_days}), given[0])


def is_coded(name: str, field: FieldInfo) -> bool:
    """Whether a key holds a public code or a word of a closed list."""
    return name in _CODED or _holds(field, _is_literal)


def is_id(field: FieldInfo) -> bool:
    """Whether a key holds an id of the case's own."""
    return _holds(field, _is_pattern)


def _rows(case: Case) -> tuple[Tried | SessionRow, ...]:
    return (*case.tried, *case.sessions)


def _leaves(value: Any, name: str = "", field: FieldInfo | None = None) -> Iterator[tuple[Any, str, FieldInfo | None]]:
    """Each value of a case that is no table, with its key and field."""
    if isinstance(value, Part):
        for key, inner in type(value).model_fields.items():
            yield from _leaves(getattr(value, key), key, inner)
    elif isinstance(value, tuple):
        for entry in value:
            yield from _leaves(entry, name, field)
    else:
        yield value, name, field


def _holds(field: FieldInfo, wanted: Callable[[Any], bool]) -> bool:
    """Whether the type of a field holds something, however deep."""
    below = [field.annotation, *field.metadata]
    while below:
        kind = below.pop()
        if wanted(kind):
            return True
        below += typing.get_args(kind)
    return False


def _is_literal(kind: Any) -> bool:
    return typing.get_origin(kind) is typing.Literal


def _is_pattern(kind: Any) -> bool:
    return (isinstance(kind, StringConstraints) and kind.pattern is not None) or bool(getattr(kind, "pattern", None))
