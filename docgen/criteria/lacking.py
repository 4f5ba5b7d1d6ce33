"""Which entries of a list lack which keys."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any


def lacking(parts: Sequence[Any], keys: Sequence[str]) -> list[tuple[int, Any, list[str]]]:
    """Place, entry and missing keys of every entry that lacks one of the keys, in the order of the list."""
    found = [(place, part, [key for key in keys if getattr(part, key) is None]) for place, part in enumerate(parts)]
    return [(place, part, missing) for place, part, missing in found if missing]
