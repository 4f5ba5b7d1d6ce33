"""Keys that no document shows: what stands under them never leaves the machine."""

from __future__ import annotations

from typing import Any

from docgen.case.base import Part, part_of
from docgen.case.lines import MASK, KeyPath
from docgen.case.model import Case
from docgen.case.privacy import Privacy


def is_private(path: KeyPath) -> bool:
    """Whether the path of a case leads to a key for no document at all."""
    table: type[Part] | None = Case
    for name in (step for step in path if isinstance(step, str)):
        if table is None or name not in table.model_fields:
            return False
        inner = part_of(table.model_fields[name].annotation)
        if inner is None:
            return table.privacy_of(name) is Privacy.PRIVATE
        table = inner
    return False


def private_masked(node: Any, path: KeyPath = ()) -> Any:
    """Plain data of a case with `MASK` for each text under such a key."""
    if isinstance(node, dict):
        return {name: private_masked(value, (*path, name)) for name, value in node.items()}
    if isinstance(node, list):
        return [private_masked(entry, (*path, at)) for at, entry in enumerate(node)]
    return MASK if is_private(path) and node is not None else node
