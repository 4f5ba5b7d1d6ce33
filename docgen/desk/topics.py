"""The screens of a case, and on which of them a key stands."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from msgspec import Struct, convert

from docgen.case.lines import KeyPath
from docgen.shipped import tables_of


class Topic(Struct, frozen=True):
    """One screen: its id, its title, the page shown beside it, and the parts of a case that stand on it."""

    id: str
    title: str
    page: str
    parts: tuple[str, ...]


@cache
def topics() -> tuple[Topic, ...]:
    """Every screen, in the order of the work."""
    written = tables_of((Path(__file__).parent / "topics.toml").read_text(encoding="utf-8"))
    return convert(written["topics"], tuple[Topic, ...])


def topic_of(path: KeyPath) -> Topic:
    """The screen that a key stands on; the first for one of the case itself."""
    return next((topic for topic in topics() if path and path[0] in topic.parts), topics()[0])
