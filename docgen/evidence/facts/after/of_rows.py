"""A fact about rows of the lessons: a share of them, a count, a sum of one column."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.session import SessionRow
from docgen.evidence.blocks import lines, recorded
from docgen.evidence.fact import Fact
from docgen.evidence.proportion import WILSON
from docgen.evidence.share import share_of

FILE = ("sessions.csv",)  # the rows of these facts are its lines


def share(
    fact_id: str,
    label: str,
    k: int,
    n: int,
    at: tuple[int, ...],
    formula: str,
    keys: tuple[str, ...] = FILE,
    source: str = WILSON,
    note: str = "",
) -> Fact:
    """k of n attempts, which stand at the lines `at`, with the score interval."""
    return share_of(fact_id, "after", label, k, n, formula, rows=at, keys=keys, source=source, note=note)


def count(
    fact_id: str, label: str, k: float, n: int, at: tuple[int, ...], formula: str, source: str = "", note: str = ""
) -> Fact:
    """How many of something, out of n that were looked at."""
    return Fact(
        fact_id, "after", label, "count", k, n, k, rows=at, keys=FILE, formula=formula, source=source, note=note
    )


def sum_of(column: str, rows: Sequence[SessionRow], fact_id: str, label: str, *, gaps: bool = False) -> Iterator[Fact]:
    """The sum of a column; nothing where no row records it.

    gaps  whether a note says how many rows do not record it
    """
    if counted := recorded(rows, column):
        n_bare = len(rows) - len(counted)
        yield count(
            fact_id,
            label,
            sum(getattr(row, column) for row in counted),
            len(counted),
            lines(counted),
            "sum over the attempts that record it",
            note=f"{n_bare} attempts do not record it" if gaps and n_bare else "",
        )
