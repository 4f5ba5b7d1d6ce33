"""What a document must never show: the list that no template, not even a clinic's own, can pass by."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path


def never_shown(document: str, table: str, key: str) -> bool:
    """Whether the document must not show that key of that table; key "*" stands for all of the table."""
    return any(
        entry == table
        or table.startswith(f"{entry}.")
        or entry == f"{table}.{key}"
        or entry == f"*.{key}"
        or (key == "*" and entry.startswith(f"{table}."))
        for entry in _lists().get(document, ())
    )


@cache
def _lists() -> dict[str, list[str]]:
    return tomllib.loads(Path(__file__).with_name("never.toml").read_text(encoding="utf-8"))
