"""How fair the comparison of two controls was: signs that something other than the control may explain a difference."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from docgen.case.totals import Tried
from docgen.evidence.blocks import Block, blocks, n_attempts, total

# "clearly" stands only beside at most this many signs: common practice, no source
MOST_SIGNS_FOR_CLEARLY = 1


class Sign(Struct, frozen=True):
    """One sign: its code (a key of the words of each language) and what the record shows, in English."""

    code: str
    text: str


def signs(chosen: Sequence[Tried], other: Sequence[Tried]) -> tuple[Sign, ...]:
    """Every sign that the rows of the two controls show; empty when they show none.

    Order within shared days, days of practice, tasks, helpers, speed, metres for each attempt.
    Source: guards of a fair comparison as taught in the trade; common practice, no source.
    """
    mine, blocks_other = blocks(chosen), blocks(other)
    return tuple([*_days(mine, blocks_other), *_sameness(chosen, other), *_metres(chosen, other)])


def _days(mine: Sequence[Block], blocks_other: Sequence[Block]) -> Iterator[Sign]:
    days_mine, days_other = {b.on for b in mine}, {b.on for b in blocks_other}
    shared = days_mine & days_other
    if not shared:
        yield Sign("no_shared_day", "never tried on the same day")
    places = [
        (_places(next(b for b in mine if b.on == day)), _places(next(b for b in blocks_other if b.on == day)))
        for day in sorted(shared)
    ]
    known = [(a, b) for a, b in places if a and b]
    if len(known) < len(places):
        yield Sign("order_unknown", "the order in which the two were tried is not recorded for every shared day")
    if known and all(max(a) < min(b) for a, b in known):
        yield Sign("always_first", "the requested control came first on every shared day, so fatigue favors it")
    elif known and all(min(a) > max(b) for a, b in known):
        yield Sign("always_last", "the requested control came last on every shared day, so practice favors it")
    if len(days_mine) > len(days_other):
        yield Sign("more_days", f"the requested control had {len(days_mine)} days, the other {len(days_other)}")


def _places(block: Block) -> set[int]:
    """The places that a control had in the order of its day."""
    return {row.order for row in block.rows if row.order is not None}


def _sameness(chosen: Sequence[Tried], other: Sequence[Tried]) -> Iterator[Sign]:
    if only := sorted({row.task for row in chosen if row.task} ^ {row.task for row in other if row.task}):
        yield Sign("other_tasks", f"not the same tasks: {', '.join(only)}")
    for column, code, words in (
        ("supervisor", "other_helper", "not the same helper"),
        ("speed_m_s", "other_speed", "not the same speed"),
    ):
        a, b = ({getattr(row, column) for row in part if getattr(row, column) is not None} for part in (chosen, other))
        if a and b and not a & b:
            yield Sign(code, words)


def _metres(chosen: Sequence[Tried], other: Sequence[Tried]) -> Iterator[Sign]:
    """Open metres dilute contacts: twice the metres an attempt makes a rate look half as bad."""
    mine, blocks_other = total(chosen, "distance_m"), total(other, "distance_m")
    if not mine or not blocks_other:
        return
    a, b = mine / n_attempts(chosen), blocks_other / n_attempts(other)
    if a >= 2 * b:
        yield Sign(
            "more_metres",
            f"{a:.0f} m an attempt with the requested control, {b:.0f} m with the other, which dilutes its collisions",
        )
