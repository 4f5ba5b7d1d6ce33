"""Someone named by their role, a line of the order by its code -> the id, where only one can be meant.

What two entries could be meant by stays as it is written, and is told as a name of no entry.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from functools import cache
from typing import Any, get_args

from pydantic.fields import FieldInfo

from docgen.case.base import Id, Part, fields_of, parts_in
from docgen.case.lists import entries_in, is_list
from docgen.case.names_that_say import role_of

_AN_ID = r"[a-z][a-z0-9_]*"
_OF_PEOPLE = ("who", "coach", "substitute")  # keys that name somebody, beside those that end in "by"


def with_ids(raw: Mapping[str, Any], model: type[Part]) -> dict[str, Any]:
    """The data of a case in which people are named by their ids, and lines of the order too."""
    people = _ids_by(raw.get("people"), "role")
    written = _with_people(raw, model, {_id(entry) for entry in entries_in(raw.get("people"))}, people)
    configuration = written.get("configuration")
    if isinstance(configuration, Mapping):
        items = entries_in(configuration.get("items"))
        known, lines = {_id(entry) for entry in items}, _ids_by(items, "code")
        of_items = {
            key: tuple(_with_line(entry, known, lines) for entry in configuration[key])
            for key in ("mounting", "standard_parts")
            if is_list(configuration.get(key))
        }
        written["configuration"] = {**configuration, **of_items}
    emergency = written.get("emergency")
    if isinstance(emergency, Mapping) and is_list(emergency.get("calls")):
        ids = {_id(entry) for entry in entries_in(raw.get("people"))}
        written["emergency"] = {**emergency, "calls": tuple(_of_nobody(call, ids) for call in emergency["calls"])}
    return written


def _of_nobody(call: Any, ids: set[str]) -> Any:
    """A call whose name is no entry of people and has a number, or can be no id: who answers is nobody of the case."""
    who = call.get("who") if isinstance(call, (dict, Mapping)) else None
    if not isinstance(who, str) or who in ids or not ({"phone", "name"} & {*call} or not re.fullmatch(_AN_ID, who)):
        return call
    number = {"phone": who} if re.fullmatch(r"[0-9][0-9 .-]*", who) else {}
    return {"name": who.replace("_", " "), **number, **{key: value for key, value in call.items() if key != "who"}}


def _with_people(
    table: Mapping[str, Any], model: type[Part], known: set[str], people: Mapping[str, str]
) -> dict[str, Any]:
    def in_ids(value: Any) -> Any:
        if isinstance(value, str):
            return value if value in known else people.get(role_of(value), value)
        return tuple(map(in_ids, value)) if is_list(value) else value

    naming, parts = _naming_somebody(model), parts_in(model)
    written = dict(table)
    for name, value in table.items():
        if name in naming:
            written[name] = in_ids(value)
        elif (inner := parts.get(name)) and isinstance(value, (dict, Mapping)):
            written[name] = _with_people(value, inner, known, people)
        elif inner and is_list(value):
            written[name] = tuple(
                _with_people(entry, inner, known, people) if isinstance(entry, (dict, Mapping)) else entry
                for entry in value
            )
    return written


@cache
def _naming_somebody(model: type[Part]) -> frozenset[str]:
    """The keys of a table that hold the id of somebody, or a list of such ids."""
    return frozenset(name for name, field in fields_of(model).items() if _names_somebody(name, field))


def _names_somebody(name: str, field: FieldInfo) -> bool:
    is_id = Id in get_args(field.annotation) or any(limit in field.metadata for limit in get_args(Id)[1:])
    return is_id and (name.endswith("by") or name in _OF_PEOPLE)


def _with_line(entry: Any, known: set[str], lines: Mapping[str, str]) -> Any:
    """A part whose line of the order may be named by its code."""
    item = entry.get("item") if isinstance(entry, Mapping) else None
    if not isinstance(item, str) or item in known:
        return entry
    return {**entry, "item": lines.get(item.upper(), item)}


def _ids_by(entries: object, key: str) -> dict[str, str]:
    """What an entry holds under a key -> its id, where no other holds the same."""
    values = [(entry[key], _id(entry)) for entry in entries_in(entries) if isinstance(entry.get(key), str)]
    counts = Counter(value for value, _ in values)
    return {value: name for value, name in values if counts[value] == 1 and name}


def _id(entry: Mapping[str, Any]) -> str:
    name = entry.get("id")
    return name if isinstance(name, str) else ""
