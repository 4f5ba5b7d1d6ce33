"""Values in another form than their key has, which can mean one thing only: a day in words, a measure with its unit,
one text for a list."""

from __future__ import annotations

import typing
from collections.abc import Mapping, Sequence
from datetime import date
from functools import cache
from typing import Any

from docgen.case.base import Part, is_number, part_of
from docgen.case.measures_written import measure_of, unit_of_key

_FIRST_YEAR = 1900  # somebody may have been born then, and no trial was held


def forgiven(raw: Mapping[str, Any], model: type[Part]) -> dict[str, Any]:
    """The data of a case with each day that can be read in one way only as a day, each measure with its unit as the
    number that its key holds, and a text that stands for a list as the list of it; all else as it is."""
    dates, lists, measures, parts = _keys_of(model)
    kept = dict(raw)
    for name, value in raw.items():
        if isinstance(value, str):  # asked first: most values are texts, and few of their keys hold anything else
            if name in dates:
                kept[name] = day_of(value) or value
            elif name in measures:
                kept[name] = value if (number := measure_of(value, measures[name])) is None else number
            elif name in lists and value.strip():
                kept[name] = (value,)
        elif (inner := parts.get(name)) and isinstance(value, (dict, Mapping)):
            kept[name] = forgiven(value, inner)
        elif inner and isinstance(value, Sequence):
            kept[name] = tuple(
                forgiven(entry, inner) if isinstance(entry, (dict, Mapping)) else entry for entry in value
            )
    return kept


def day_of(text: str) -> date | None:
    """The day of a text that can mean one alone."""
    from docgen.case.days_written import orders_of

    days = set(orders_of(text, _FIRST_YEAR).values())
    return days.pop() if len(days) == 1 else None


def days_of(text: str) -> tuple[date, ...]:
    """Every day that a text can mean."""
    from docgen.case.days_written import orders_of

    return tuple(dict.fromkeys(orders_of(text, _FIRST_YEAR).values()))


def keys_of_days(model: type[Part]) -> frozenset[str]:
    """The keys of a table that hold a day."""
    return _keys_of(model)[0]


@cache
def _keys_of(
    model: type[Part],
) -> tuple[frozenset[str], frozenset[str], Mapping[str, str], Mapping[str, type[Part]]]:
    """Of a table: keys that hold a day, keys that hold a list of texts, the unit of each that holds a measure, and the
    part that each table in it is."""
    fields = model.model_fields
    kinds: dict[str, Any] = {name: field.annotation for name, field in fields.items()}
    dates = frozenset(name for name, kind in kinds.items() if _holds_day(kind))
    lists = frozenset(name for name, kind in kinds.items() if _holds_texts(kind))
    measures = {name: unit for name, field in fields.items() if is_number(field) and (unit := unit_of_key(name))}
    return (
        dates,
        lists,
        measures,
        {name: inner for name, kind in kinds.items() if (inner := part_of(kind))},
    )


@cache
def _holds_day(kind: Any) -> bool:
    return kind is date or (not _is_list(kind) and any(_holds_day(part) for part in typing.get_args(kind)))


@cache
def _holds_texts(kind: Any) -> bool:
    if _is_list(kind):
        inside = typing.get_args(kind)[0]
        texts = typing.get_args(inside)[0] if typing.get_origin(inside) is typing.Annotated else inside
        return texts is str or (typing.get_origin(texts) is typing.Literal)
    return any(_holds_texts(part) for part in typing.get_args(kind))


def _is_list(kind: Any) -> bool:
    return typing.get_origin(kind) is tuple
