"""What a word means that a key of the case may hold, as a person says it: for the desk, the schema and messages."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from docgen.case.lines import KeyPath, dotted
from docgen.shipped import tables_of
from docgen.terms import terms

_FILE = Path(__file__).with_name("choices.toml")
_ANY = "any"
_OF_DEVICES = "alternatives.kind"  # whose words have their terms in terms.toml


@cache
def meanings() -> Mapping[str, Mapping[str, str]]:
    """Dotted path of a key, or `any`, -> word -> what it means."""
    return tables_of(_FILE.read_text(encoding="utf-8"))


def meaning(path: KeyPath, choice: str) -> str:
    """What a word means in a key, whose path may have places of entries in it; the word itself where it is plain."""
    key = dotted(path)
    tables = meanings()
    if words := tables.get(key, {}).get(choice) or tables[_ANY].get(choice):
        return words
    kind = terms("kinds").get(choice) if key == _OF_DEVICES else None
    return kind.term if kind else choice.replace("_", " ")
