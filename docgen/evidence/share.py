"""The fact of a share: so many of so many, with the score interval."""

from __future__ import annotations

from docgen.evidence.fact import Fact
from docgen.evidence.proportion import WILSON, wilson_interval


def share_of(
    fact_id: str,
    question: str,
    label: str,
    k: int,
    n: int,
    formula: str,
    *,
    rows: tuple[int, ...],
    totals: tuple[int, ...] = (),
    keys: tuple[str, ...] = (),
    source: str = WILSON,
    note: str = "",
) -> Fact:
    """k of n, with the lines of the files and the keys of the case that they were counted in. Raises ValueError where n
    is none or k is more."""
    interval = wilson_interval(k, n)
    return Fact(
        fact_id,
        question,
        label,
        "proportion",
        interval.share,
        n,
        k,
        interval.low,
        interval.high,
        rows=rows,
        totals=totals,
        keys=keys,
        formula=formula,
        source=source,
        note=note,
    )
