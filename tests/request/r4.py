"""A resource held against the types of FHIR R4: names, lists, choices, forms of the primitives, nothing empty."""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Iterator
from datetime import date, datetime
from typing import Any, NamedTuple

from definitions import Definitions


class Issue(NamedTuple):
    rule: str
    path: str
    says: str
    severity: str = "error"


_FORMS = {  # http://hl7.org/fhir/R4/datatypes.html#primitive
    "id": r"[A-Za-z0-9\-.]{1,64}",
    "code": r"[^\s]+(\s[^\s]+)*",
    "uri": r"\S+",
    "url": r"\S+",
    "canonical": r"\S+",
    "oid": r"urn:oid:[0-2](\.(0|[1-9][0-9]*))+",
    "uuid": r"urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}",
    "date": r"\d{4}(-\d\d(-\d\d)?)?",
    "dateTime": r"\d{4}(-\d\d(-\d\d(T\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d))?)?)?",
    "instant": r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)",
    "time": r"\d\d:\d\d:\d\d(\.\d+)?",
    "string": r"[\s\S]*\S[\s\S]*",
    "markdown": r"[\s\S]*\S[\s\S]*",
    "xhtml": r"[\s\S]+",
    "base64Binary": r"[A-Za-z0-9+/=\s]+",
}
_NUMBERS = {"integer": None, "unsignedInt": 0, "positiveInt": 1}


def is_primitive(kind: str) -> bool:
    return kind[:1].islower() or kind in ("xhtml",)


def structure(resource: Any, known: Definitions, path: str = "") -> Iterator[Issue]:
    """What is wrong with a resource as R4 has it."""
    kind = resource.get("resourceType") if isinstance(resource, dict) else None
    if kind not in known.types:
        if known.holds("http://hl7.org/fhir/ValueSet/resource-types", None, kind):
            return  # of R4, and none that a request of ours has: its fields are not in the table
        yield Issue("resource", path, f"{kind!r} is no resource of R4")
        return
    rest = {key: value for key, value in resource.items() if key != "resourceType"}
    yield from _fields(rest, known.types[kind], known, path or kind, kind)


def _fields(value: dict[str, Any], fields: dict[str, Any], known: Definitions, path: str, kind: str) -> Iterator[Issue]:
    if not value:
        yield Issue("empty", path, "holds nothing")
    if kind == "Extension":
        has_value = any(key.lstrip("_").startswith("value") for key in value)
        if has_value == ("extension" in value):
            yield Issue("ext-1", path, "has both a value and extensions, or neither")
    choices: dict[str, list[str]] = {}
    for key, inner in value.items():
        name = key.removeprefix("_")
        field = fields.get(name)
        if field is None or (key != name and not is_primitive(field[0])):
            yield Issue("unknown", f"{path}.{key}", f"is no element of {kind}")
            continue
        if len(field) > 5 and field[5]:
            choices.setdefault(field[5], [])
            if name not in choices[field[5]]:
                choices[field[5]].append(name)
        if bool(field[1]) != isinstance(inner, list):
            yield Issue("list", f"{path}.{key}", "is a list, or should be one")
            continue
        if field[1] and not inner:
            yield Issue("empty", f"{path}.{key}", "is an empty list")
        for at, each in enumerate(inner if field[1] else [inner]):
            where = f"{path}.{key}[{at}]" if field[1] else f"{path}.{key}"
            yield from _extended(each, known, where) if key != name else _value(each, field, known, where)
    for names in choices.values():
        if len(names) > 1:
            yield Issue("choice", path, f"has {' and '.join(names)}, of which one may stand")
    for name, field in fields.items():
        if field[2] and not (len(field) > 5 and field[5]) and name not in value and f"_{name}" not in value:
            yield Issue("required", f"{path}.{name}", "is missing")


def _extended(value: Any, known: Definitions, path: str) -> Iterator[Issue]:
    """What stands beside a primitive."""
    if not isinstance(value, dict):
        yield Issue("form", path, "is no element")
        return
    yield from _fields(value, known.types["Element"], known, path, "Element")


def _value(value: Any, field: list[Any], known: Definitions, path: str) -> Iterator[Issue]:
    kind = field[0]
    if len(field) > 4 and isinstance(field[4], dict):
        if isinstance(value, dict):
            yield from _fields(value, field[4], known, path, kind)
        else:
            yield Issue("form", path, "is no element")
    elif kind.startswith("#"):
        return
    elif kind == "Resource":
        yield from structure(value, known, path)
    elif is_primitive(kind):
        yield from _primitive(value, kind, path)
        if len(field) > 3 and field[3] and known.holds(field[3], None, value) is False:
            yield Issue("code", path, f"{value!r} is not of {field[3]}")
    elif not isinstance(value, dict):
        yield Issue("form", path, f"is no {kind}")
    else:
        yield from _fields(value, known.types[kind], known, path, kind)


def _primitive(value: Any, kind: str, path: str) -> Iterator[Issue]:
    if kind == "boolean":
        right = isinstance(value, bool)
    elif kind in _NUMBERS:
        least = _NUMBERS[kind]
        right = isinstance(value, int) and not isinstance(value, bool) and (least is None or value >= least)
    elif kind == "decimal":
        right = isinstance(value, (int, float)) and not isinstance(value, bool)
    else:
        right = isinstance(value, str) and re.fullmatch(_FORMS[kind], value) is not None and _is_true(value, kind)
    if not right:
        yield Issue("form", path, f"{str(value)[:40]!r} is no {kind}")


def _is_true(value: str, kind: str) -> bool:
    """Whether a day is on the calendar, and base 64 decodes."""
    try:
        if kind in ("date", "dateTime", "instant"):
            day = value.split("T")[0]
            date.fromisoformat(f"{day}-01-01"[:10])
            if "T" in value:
                datetime.fromisoformat(value.replace("Z", "+00:00"))
        if kind == "base64Binary":
            base64.b64decode(re.sub(r"\s", "", value), validate=True)
    except (ValueError, binascii.Error):
        return False
    return True
