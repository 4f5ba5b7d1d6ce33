"""What is lacking: keys of the entries of a list, in words too, and what an answer before has shown to be recorded."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, TypeVar

from docgen.case.base import Part
from docgen.criteria.sentences import listed

_T = TypeVar("_T")


def lacking(parts: Sequence[Any], keys: Sequence[str]) -> list[tuple[int, Any, list[str]]]:
    """Place, entry and missing keys of every entry that lacks one of the keys, in the order of the list."""
    missing_keys = [
        (place, part, [key for key in keys if getattr(part, key) is None]) for place, part in enumerate(parts)
    ]
    return [(place, part, missing) for place, part, missing in missing_keys if missing]


def recorded(value: _T | None) -> _T:
    """A value that an earlier answer of the same question has shown to be recorded. Raises ValueError if it is not."""
    if value is None:
        raise ValueError("not recorded, and not asked for before")
    return value


def in_words(model: type[Part], keys: Iterable[str]) -> str:
    """Keys of a table as a page names them: by their labels, each without what a label adds behind a comma."""
    return listed(recorded(model.model_fields[key].description).partition(",")[0] for key in keys)
