"""The fact of a median: the middle of so many times, with the interval that takes no distribution for granted."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.evidence.fact import Fact
from docgen.evidence.time import CONOVER, median_interval


def median_of(
    fact_id: str,
    question: str,
    label: str,
    seconds: Sequence[float],
    formula: str,
    *,
    rows: tuple[int, ...],
    what: str = "",
) -> Fact:
    """The median of these times, with the lines of the file that they stand in.

    what  the times in a word, as the note names them where they are too few for an interval

    Raises ValueError where there is none.
    """
    interval = median_interval(seconds)
    return Fact(
        fact_id,
        question,
        label,
        "seconds",
        interval.median,
        len(seconds),
        None,
        interval.low,
        interval.high,
        rows=rows,
        formula=f"{formula}; order-statistic interval",
        source=CONOVER,
        note="" if interval.low is not None else " ".join(f"fewer than the 6 {what} an interval needs".split()),
    )
