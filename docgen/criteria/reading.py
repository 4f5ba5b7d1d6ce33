"""Who is to read a document, in which languages they read, and what the packet has for them in none of these."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from msgspec import Struct

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.who import Role
from docgen.resources import folder

ENGLISH = "en"
# whoever has a part in daily use reads the guide; whoever coaches or is at school with the client reads the plan too
_FOR: dict[Role, tuple[str, ...]] = {"caregiver": ("guide",), "coach": ("guide", "plan"), "school": ("guide", "plan")}


class Reader(Struct, frozen=True):
    """Someone of whom the record says in which languages they read.

    path         of the person in the case
    called       who it is in a sentence
    reads        tags of languages, best first
    lacks        documents written for them that the packet has in none of these
    instead      language of `reads`, not English, in which the packet has some of them; "" for none
    interpreter  who goes through the rest with them; "" where that is not recorded
    """

    path: KeyPath
    called: str
    reads: tuple[str, ...]
    lacks: tuple[str, ...]
    instead: str
    interpreter: str


def readers(case: Case) -> Iterator[Reader]:
    """The client, and each person with a part in daily use, whose languages are recorded."""
    client = case.client
    if client.reads:
        called = client.called or client.name or "the client"
        yield _reader(("client",), called, client.reads, ("guide",), client.interpreter)
    for at, person in enumerate(case.people):
        wanted = ("guide", "plan") if person.id == case.training.coach else _FOR.get(person.role, ())
        if person.reads and wanted:
            yield _reader(("people", at), person.called, person.reads, wanted, person.interpreter)


def _reader(
    path: KeyPath, called: str, reads: tuple[str, ...], wanted: tuple[str, ...], interpreter: str | None
) -> Reader:
    lacks = () if ENGLISH in reads else tuple(name for name in wanted if not any(name in written(t) for t in reads))
    instead = "" if ENGLISH in reads else next((tag for tag in reads if written(tag) & set(wanted)), "")
    return Reader(path, called, reads, lacks, instead, interpreter or "")


@cache
def written(lang: str) -> frozenset[str]:
    """Names of the documents that the packet can have in a language, by its tag without a region."""
    root = folder("templates") / lang.partition("-")[0]
    return frozenset(path.stem for path in root.glob("[a-z]*.md"))
