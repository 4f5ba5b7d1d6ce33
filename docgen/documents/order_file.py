"""The order as data: lines, standard parts, places of parts and settings, for a program that would retype them.

The keys below are the only source of the file and of its JSON Schema (draft 2020-12). A key that the order itself does
not show is left out, and one that nobody has recorded is null.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from datetime import date
from typing import Any

from msgspec import Struct

from docgen.case.privacy import Privacy
from docgen.documents.view import project
from docgen.rendering.template import Gap, Shown

FORMAT = "docgen order 1"
_TYPES: dict[str, dict[str, Any]] = {
    "text": {"type": ["string", "null"]},
    "number": {"type": ["number", "null"]},
    "whole": {"type": ["integer", "null"]},
    "yes_no": {"type": ["boolean", "null"]},
    "day": {"type": ["string", "null"], "format": "date"},
    "texts": {"type": "array", "items": {"type": ["string", "null"]}},
}


class _Key(Struct, frozen=True):
    name: str
    kind: str
    means: str


class _Table(Struct, frozen=True):
    """A list of the file, and the table of the documents it is made from."""

    name: str
    source: str
    means: str
    keys: tuple[_Key, ...]


def _keys(*described: tuple[str, str, str]) -> tuple[_Key, ...]:
    return tuple(_Key(*key) for key in described)


_TABLES = (
    _Table(
        "lines",
        "order_lines",
        "the lines of the order",
        _keys(
            ("number", "whole", "place on the order, from 1; the chair comes first"),
            ("code", "text", "procedure code; null where none is recorded"),
            ("without_code", "yes_no", "whether there is no procedure code for it"),
            ("name", "text", "item in plain words"),
            ("described", "text", "class of a base as its code has it; empty for any other line"),
            ("size_mm", "text", "size in mm, in words; empty where a line has none"),
            ("quantity", "whole", "quantity"),
            ("unit", "text", "what the quantity counts"),
            ("modifiers", "text", "claim modifiers, with a space between"),
            ("billed", "text", "whether it is billed separately, or with which line"),
            ("diagnoses", "text", "codes of the diagnoses that it answers"),
            ("months", "whole", "length of need in months"),
            ("why", "text", "why it is needed"),
            ("payer_says", "text", "what the payer answered about it"),
            ("payer_said_on", "day", "date of that answer"),
        ),
    ),
    _Table(
        "standard_parts",
        "standard_parts",
        "parts that no line brings, or that are asked about once",
        _keys(
            ("part", "text", "part of the chair"),
            ("comes", "text", "with_base, moves_over, not_needed, or line; null where nobody has said"),
            ("line", "whole", "number of the line that brings it, or 0"),
            ("says", "text", "what is particular about it"),
        ),
    ),
    _Table(
        "mounting",
        "mounting",
        "places of the parts of the control",
        _keys(
            ("part", "text", "part"),
            ("at", "text", "where it stands, in words"),
            ("height_mm", "number", "height in mm above the zero of the order"),
            ("depth_mm", "number", "distance in mm ahead of or behind that zero"),
            ("depth_way", "text", "ahead or behind"),
            ("midline_mm", "number", "distance in mm from the midline"),
            ("midline_way", "text", "left or right"),
            ("angle_deg", "number", "angle in degrees"),
            ("angle_from_deg", "number", "least angle that is usable, in degrees"),
            ("angle_to_deg", "number", "greatest angle that is usable, in degrees"),
            ("angle_axis", "text", "axis of the angle"),
            ("gap_mm", "number", "gap to the body in mm"),
            ("gap_from_mm", "number", "least gap allowed, in mm"),
            ("gap_to_mm", "number", "greatest gap allowed, in mm"),
            ("size_mm", "text", "size in mm, in words"),
            ("thick_mm", "number", "thickness in mm"),
            ("bracket", "text", "bracket and rail"),
            ("tool", "text", "tool"),
            ("mark", "text", "mark by which the place is found again"),
            ("wired_to", "text", "where its cable leads"),
            ("on", "day", "date it was measured"),
        ),
    ),
    _Table(
        "settings",
        "parameters",
        "settings of the drive as measured",
        _keys(
            ("name", "text", "programmer setting"),
            ("profiles", "texts", "profiles of the values, in their order; empty for one value of all"),
            ("set_to", "texts", "values with their units; null where nobody has said"),
            ("how", "text", "how it was measured, or why it is so"),
        ),
    ),
)


def order_file(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], may_see: Collection[Privacy], status: str
) -> bytes:
    """The file; empty where the order shows no line.

    tables   every table that a document could be shown
    shows    tables and keys that the order shows, and `may_see` the classes of privacy of its reader
    status   what every page says about the state of the packet
    """
    wanted = {
        table.source: tuple(key.name for key in table.keys if key.name in shows.get(table.source, ()))
        for table in _TABLES
        if table.source in shows
    }
    if not wanted.get("order_lines"):
        return b""
    shown = project(tables, wanted, "{label}", may_see=may_see)
    content = {"format": FORMAT, "status": status} | {
        table.name: _plain(shown[table.source]) for table in _TABLES if table.source in shown
    }
    return (json.dumps(content, indent=1, ensure_ascii=False) + "\n").encode()


def order_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of the file."""
    lists = {
        table.name: {
            "type": "array",
            "description": table.means,
            "items": {
                "type": "object",
                "additionalProperties": False,
                "properties": {key.name: _TYPES[key.kind] | {"description": key.means} for key in table.keys},
            },
        }
        for table in _TABLES
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": FORMAT,
        "type": "object",
        "additionalProperties": False,
        "required": ["format", "status", "lines"],
        "properties": {
            "format": {"const": FORMAT},
            "status": {"type": "string", "description": "state of the packet, as every page says it"},
            **lists,
        },
    }


def _plain(value: Any) -> Any:
    """A value as JSON has it; null for a gap."""
    if isinstance(value, Gap):
        return None
    if isinstance(value, Shown):
        return {name: _plain(value[name]) for name in value}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_plain(entry) for entry in value]
    return value.isoformat() if isinstance(value, date) else value
