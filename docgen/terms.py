"""The terms of the professional documents, with the source of each, and the names that went before them.

They stand in terms.toml, of which nothing is read before a name is asked for; a feature or finding may say the source
of its name in its own file instead (`term_source`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from msgspec import Struct

from docgen.errors import did_you_mean
from docgen.shipped import tables_of

_FILE = Path(__file__).with_name("terms.toml")


class Term(Struct, frozen=True):
    """A word of the trade.

    term    as letter, order, cover and plan have it
    guide   what the guide says instead; empty where the guide does not speak of it
    source  ids of the table of sources; empty where the words are our own
    read    whether its wording was read there; false where it is from memory
    was     what it was called before
    """

    term: str
    guide: str = ""
    source: tuple[str, ...] = ()
    read: bool = False
    was: str = ""


@cache
def _tables() -> Mapping[str, Any]:
    return tables_of(_FILE.read_text(encoding="utf-8"))


def sources() -> Mapping[str, str]:
    """Where terms come from: short id -> the publication."""
    return dict(_tables()["sources"])


@cache
def terms(kind: str) -> Mapping[str, Term]:
    """Every term of a kind (features, settings, kinds, findings, labels, headings) by its id or key."""
    return {
        key: Term(**{**entry, "source": tuple(entry.get("source", ()))})
        for key, entry in _tables()["terms"][kind].items()
    }


def renamed(kind: str) -> Mapping[str, str]:
    """Old id -> its new one, of features, settings, values (words that a key of the case takes) or keys, which stand
    with their dotted path."""
    return dict(_tables()["renamed"][kind])


def unknown(kind: str, what: str, wrong: str, allowed: Iterable[str]) -> tuple[str, str]:
    """A clause for an id that is not allowed (`what` is one of the kind), and what to do: its new name where it had an
    old one."""
    if (new := renamed(kind).get(wrong)) is not None:
        return f"'{wrong}' is now '{new}'", f"Write {new} in its place."
    known = list(allowed)
    if values := [name for name in known if name.startswith(f"{wrong}.")]:
        return f"{what} '{wrong}' lacks its value", f"Write one of {', '.join(values)}."
    return f"unknown {what} '{wrong}'", did_you_mean(wrong, known)


def everyday() -> dict[str, list[str]]:
    """Plain words of headings, captions and labels that need no source: why they need none -> the words."""
    return {entry["reason"]: list(entry["words"]) for entry in _tables()["everyday"]}
