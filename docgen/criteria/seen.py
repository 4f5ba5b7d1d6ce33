"""The days on which something was tried or found: what an evaluation rests on."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from docgen.case.lines import KeyPath
from docgen.case.model import Case


def seen_days(case: Case) -> Iterator[tuple[date, KeyPath]]:
    """The first and last day of the trial and each day that something was found, with its place."""
    days = [row.date for row in case.tried]
    yield from ((on, ("trial", "rows")) for on in sorted({min(days), max(days)} if days else ()))
    for table in ("findings", "limits"):
        yield from ((entry.on, (table, at, "on")) for at, entry in enumerate(getattr(case, table)) if entry.on)


def seen_in_words(case: Case, at: KeyPath) -> str:
    """What was seen at a place that `seen_days` gives, at the head of a sentence."""
    if at[0] == "trial":
        return "The last row of the trial"
    entry = getattr(case, str(at[0]))[at[1]]
    return f"The finding '{entry.id}'" if at[0] == "findings" else f"The screening of {entry.kind}"
