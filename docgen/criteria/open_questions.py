"""Questions that somebody has still to answer, as the answer of a criterion."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from docgen.case.awaited import Awaited
from docgen.criteria.criterion import Answer, cannot_tell, met
from docgen.criteria.mend import Mend, fill_in
from docgen.criteria.sentences import day, listed

Asked = Sequence[tuple[int, Awaited]]  # place in the list, and the question


def answered(asked: Asked) -> Answer:
    """Met: each was answered, with the day."""
    each = (f"{entry.what} ({day(entry.answered_on)})" for _, entry in asked if entry.answered_on)
    return met(f"Answered: {listed(each)}.", *(("awaited", i) for i, _ in asked))


def not_answered(still_open: Asked, holds: bool) -> Answer:
    """Cannot be told: what is open, and of whom; `holds` where nothing is approved before."""
    entries = [entry for _, entry in still_open]
    return replace(
        cannot_tell(
            f"Not answered yet: {listed(map(_question, entries))}.",
            *(("awaited", i) for i, _ in still_open),
            mend=_mend(entries),
        ),
        holds=holds,
        of=tuple(dict.fromkeys(entry.of for entry in entries)),
        names=tuple(entry.what_and_who_knows for entry in entries),
    )


def _mend(still_open: Sequence[Awaited]) -> Mend:
    """The answer and its day, or the day alone where each answer stands there already."""
    forms = {"answer": "<what was answered>", "answered_on": "<date>"}
    if all(entry.answer for entry in still_open):
        del forms["answer"]
    of_client = any(entry.of == "client" and not entry.asks for entry in still_open)
    you = '; the question as the client reads it, with "you", goes into asks there' if of_client else ""
    return fill_in(forms, f" in [[awaited]]{you}")


def _question(entry: Awaited) -> str:
    if entry.answer:
        return f"{entry.what} ({entry.asked}: an answer stands there, and not its day)"
    asked = f"asked on {day(entry.asked_on)}" if entry.asked_on else "no day on which it was asked is recorded"
    return f"{entry.what} ({entry.asked}, {asked})"
