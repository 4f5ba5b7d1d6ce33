"""What is a list, and an entry of one, in a table as it was written and before anything of it is checked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any


def is_list(value: object) -> bool:
    """Whether a value holds others in an order."""
    return isinstance(value, Sequence) and not isinstance(value, str)


def entries_in(value: Any) -> list[Mapping[str, Any]]:
    """Those entries of a list that are tables; none of any other value."""
    return [entry for entry in value if isinstance(entry, Mapping)] if is_list(value) else []
