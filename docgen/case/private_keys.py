"""Keys that no document shows: what stands under them never leaves the machine."""

from __future__ import annotations

from typing import Any, get_origin

from docgen.case.base import Part, fields_of, part_of
from docgen.case.lines import MASK, KeyPath
from docgen.case.model import Case
from docgen.case.privacy import Privacy


def is_private(path: KeyPath) -> bool:
    """Whether the path of a case leads to a key for no document at all; entries stand by their place or their name."""
    table: type[Part] = Case
    is_list = False
    for step in path:
        if is_list or isinstance(step, int):
            is_list = False
            continue
        fields = fields_of(table)
        if step not in fields:
            return False
        kind = fields[step].annotation
        inner = part_of(kind)
        if inner is None:
            return table.privacy_of(step) is Privacy.PRIVATE
        table, is_list = inner, get_origin(kind) is tuple
    return False


def private_masked(node: Any, path: KeyPath = ()) -> Any:
    """Plain data of a case with `MASK` for each text under such a key."""
    if isinstance(node, dict):
        return {name: private_masked(value, (*path, name)) for name, value in node.items()}
    if isinstance(node, list):
        return [private_masked(entry, (*path, at)) for at, entry in enumerate(node)]
    return MASK if is_private(path) and node is not None else node
