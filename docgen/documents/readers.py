"""Who reads the plan and the guide in which languages, and what the packet has for them in none of these."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from docgen.case.model import Case
from docgen.criteria.reading import readers
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words

MADE_FROM = {"readers": made_from("people.reads", "client.reads", called=("people.name", "client.called"))}


class ReaderRow(TypedDict):
    """One reader.

    languages    that they read, by name where it is known, else by tag
    lacks        titles of the documents for them that are in none of these
    instead      the language, and its tag for `docgen build --lang`, in which the packet has a document for them
    interpreter  who goes through the rest with them; None where that is not recorded
    """

    called: str
    languages: tuple[str, ...]
    lacks: tuple[str, ...]
    instead: str
    interpreter: str | None
    _labels: dict[str, str]


def reader_rows(case: Case, words: Words) -> Iterator[ReaderRow]:
    """Each reader whose languages are recorded and who does not read English."""
    titles = words["titles_read"]
    for reader in readers(case):
        if not reader.lacks and not reader.instead:
            continue
        yield {
            "called": reader.called,
            "languages": tuple(_named(tag, words) for tag in reader.reads),
            "lacks": tuple(titles[name] for name in reader.lacks),
            "instead": _named(reader.instead, words) if reader.instead else "",
            "interpreter": reader.interpreter or None,
            "_labels": {"interpreter": f"who goes through it with {reader.called}"},
        }


def _named(tag: str, words: Words) -> str:
    """A language by its name, else by its tag."""
    names = words["languages"]
    return str(names.get(tag) or names.get(tag.partition("-")[0]) or tag)
