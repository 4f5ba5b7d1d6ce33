"""What the record tells of single commands of the trial stands in the rows it is told of.

Asks: Whether a sentence that tells what so many of the unintended commands came with ("1 of the 3 unintended commands
    came with a cough") counts as many as the rows of a control hold, and whether so many of those rows have a note.
Why a payer asks: The cause of a command that nobody meant is what the answer to it rests on; a reviewer who asks for
    the rows looks for the one it happened in.
What settles it: The note of that row, with what was seen; or the sentence taken back.
Source: article A55426 and US Program Integrity Manual 5.9: what a letter claims is in the record; which words tell of
    commands is common use, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.record import Row
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.evidence.blocks import by_method, lines

HEADING = "record"
CLAIM = "The cause told of a command nobody meant is noted in its row"
SHOWN_IN = ("letter: Patient Information, Diagnosis and Functional Status",)
QUIET = True
SETTINGS: dict[str, object] = {}

_TOLD = re.compile(
    r"\b(?P<k>\d{1,3}) of (?:the |these |those |her |his |their )?(?P<n>\d{1,3}) "
    r"unintended (?:commands?|activations?)\b",
    re.IGNORECASE,
)
_Count = tuple[KeyPath, str, int, int]  # where it is told, its words, of how many it tells and of how many in all


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    counts = [*_counts_told(case)]
    if not counts:
        return does_not_apply("Nothing tells what single unintended commands of the trial came with.", ("limits",))
    if not case.records:
        at, words, *_ = counts[0]
        return cannot_tell(
            f"The record tells of “{words}”, and no attempt of the trial is recorded by itself.",
            at,
            ("trial", "rows"),
            mend="Add the rows of the trial, or take the sentence back.",
        )
    unintended = _unintended_by_method(case)
    for count in counts:
        if spoken_against := _against_the_rows(count, unintended):
            return spoken_against
    return met("What is told of single unintended commands is noted in their rows.", *(at for at, *_ in counts))


def _unintended_by_method(case: Case) -> list[tuple[int, list[Row]]]:
    """Of each control of the trial: how many unintended commands its rows count, and the rows of attempts that have
    any."""
    return [
        (
            sum(row.unintended or 0 for row in rows),
            [row for row in rows if isinstance(row, Row) and row.unintended],
        )
        for rows in by_method(case.records).values()
    ]


def _against_the_rows(count: _Count, unintended: Sequence[tuple[int, list[Row]]]) -> Answer | None:
    """Not met where no control has as many unintended commands as a sentence tells of, or fewer of its rows have a note
    than it gives a cause for; None where the rows bear the sentence."""
    at, words, n_caused, n_all = count
    counted_so = [rows for total, rows in unintended if total == n_all]
    if not counted_so:
        return not_met(
            f"The record tells of “{words}”, and the rows of no control count {n_all}.",
            at,
            ("trial", "rows"),
            mend="Look them up on the sheets of the trial, and mend the words or the rows.",
        )
    noted = max(sum(bool(row.note) for row in rows) for rows in counted_so)
    if noted >= n_caused:
        return None
    return not_met(
        f"The record tells of “{words}”, and {noted or 'none'} of those rows {'has' if noted < 2 else 'have'} a note.",
        at,
        ("trial", "rows"),
        rows=lines(row for rows in counted_so for row in rows if not row.note),
        mend="Write what was seen into note of the row it happened in, or take the sentence back.",
    )


def _counts_told(case: Case) -> Iterator[_Count]:
    """Every such count in the words of the record."""
    texts: list[tuple[KeyPath, str | None]] = [
        *(
            (("limits", n, key), getattr(limit, key))
            for n, limit in enumerate(case.limits)
            for key in ("says", "answer")
        ),
        *((("findings", n, key), getattr(f, key)) for n, f in enumerate(case.findings) for key in ("says", "measure")),
        (("trial", "limits"), case.trial.limits),
        (("letter", "safety"), case.letter.safety),
    ]
    for at, text in texts:
        for count in _TOLD.finditer(text or ""):
            yield at, count[0], int(count["k"]), int(count["n"])
