"""Change from session to session and within one, and how long a session the record supports."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import DayTotal
from docgen.evidence.blocks import Block, blocks, in_order, lines, rise, tally, total, total_lines
from docgen.evidence.difference import NEWCOMBE, Difference, newcombe_interval
from docgen.evidence.fact import Fact
from docgen.evidence.kendall import kendall_test
from docgen.evidence.trend import overlap, theil_sen

ORDER = 45
QUESTION = "Does it improve with practice and hold through a session?"
_MOST_RISE = 2  # points of tiredness or stiffness that a session may add and still hold up: common practice, no source


def facts(case: Case) -> Iterator[Fact]:
    """trend and late of each method; overlap with each other method; session_minutes of the one asked for."""
    all_blocks = blocks(case.tried)
    shares: dict[str, list[float]] = {}
    for method in case.trial.methods:
        mine = [block for block in all_blocks if block.method == method.id]
        shares[method.id] = [done / n for done, n in (tally(b.rows) for b in mine)]
        yield from _trend(method.id, method.name, mine, shares[method.id])
        yield from _late(method.id, method.name, mine)
    asked = case.requested_method
    if asked is None:
        return
    for method in case.trial.methods:
        if method is not asked and len(shares[asked.id]) > 1 and len(shares[method.id]) > 1:
            overlapping = overlap(shares[method.id], shares[asked.id])
            rows = tuple(row for block in all_blocks if block.method in (asked.id, method.id) for row in block.rows)
            yield Fact(
                f"overlap.{method.id}",
                "changing",
                f"pairs of sessions in which {asked.name} did better than {method.name}",
                "proportion",
                overlapping.nap,
                overlapping.n_first * overlapping.n_second,
                overlapping.n_better + overlapping.n_tied / 2,
                rows=lines(rows),
                totals=total_lines(rows),
                formula=(
                    "every session with the one paired with every session with the other, ties counting half "
                    "(nonoverlap of all pairs)"
                ),
                source="Parker and Vannest 2009, Behav Ther 40:357-367",
            )
    yield from _length(asked.name, [block for block in all_blocks if block.method == asked.id])


def _trend(method: str, name: str, mine: Sequence[Block], shares: Sequence[float]) -> Iterator[Fact]:
    if len(mine) < 3:
        return
    places = list(range(1, len(mine) + 1))
    slope, test = theil_sen(places, shares), kendall_test(places, shares)
    notes = [
        f"{len(mine)} sessions",
        "" if test.p_two_sided is None else f"chance of so steady a change: {test.p_two_sided:.2f}",
        "" if slope.low is not None else "too few sessions for an interval",
    ]
    yield Fact(
        f"trend.{method}",
        "changing",
        f"change of successful attempts with each session, {name}",
        "difference",
        slope.slope,
        len(mine),
        None,
        slope.low,
        slope.high,
        rows=lines(r for b in mine for r in b.rows),
        totals=total_lines(r for b in mine for r in b.rows),
        formula="Theil-Sen slope over sessions; Kendall's test, two-sided",
        note="; ".join(filter(None, notes)),
        source="Sen 1968, J Am Stat Assoc 63:1379-1389 (from memory)",
    )


def _late(method: str, name: str, mine: Sequence[Block]) -> Iterator[Fact]:
    early, late = _halves(mine)
    if not early:
        return
    change = _change(early, late)
    yield Fact(
        f"late.{method}",
        "changing",
        f"late minus early in a session, same tasks, {name}",
        "difference",
        change.difference,
        len(early) + len(late),
        None,
        change.low,
        change.high,
        rows=lines((*early, *late)),
        note=f"{sum(r.success for r in late)} of {len(late)} against {sum(r.success for r in early)} of {len(early)}",
        formula="each task of each session in two halves by order, the middle attempt left out; hybrid score interval",
        source=f"halves by task: common practice, no source; {NEWCOMBE}",
    )


def _halves(mine: Sequence[Block]) -> tuple[list[Row], list[Row]]:
    """Attempts of the first and of the second half of each session whose order is recorded, task by task, so that both
    halves hold the same tasks. A session of totals has none."""
    early: list[Row] = []
    late: list[Row] = []
    for block in mine:
        ordered = in_order(block.rows) or ()
        for task in dict.fromkeys(row.task for row in ordered):
            of_task = [row for row in ordered if row.task == task]
            half = len(of_task) // 2
            early += of_task[:half]
            late += of_task[len(of_task) - half :]
    return early, late


def _change(early: Sequence[Row], late: Sequence[Row]) -> Difference:
    return newcombe_interval(sum(r.success for r in late), len(late), sum(r.success for r in early), len(early))


def _length(name: str, mine: Sequence[Block]) -> Iterator[Fact]:
    """The longest session with the requested control in which nothing recorded says it was too long."""
    timed = [(minutes, block) for block in mine if (minutes := total(block.rows, "minutes"))]
    if not timed:
        return
    endured = [(minutes, block) for minutes, block in timed if _is_endured(block)]
    known: Any = {
        "question": "changing",
        "label": f"longest session that held up, {name}",
        "kind": "minutes",
        "source": "common practice, no source",
        "formula": f"longest session in which fatigue and stiffness rose by {_MOST_RISE} points at most and no drop "
        "of "
        "successful attempts can be told from chance",
    }
    longest = max(minutes for minutes, _ in timed)
    if not endured:
        yield Fact(
            "session_minutes",
            value=None,
            rows=lines(r for _, b in timed for r in b.rows),
            totals=total_lines(r for _, b in timed for r in b.rows),
            n=len(timed),
            note="a session that held up: every one showed fatigue, stiffness or a drop",
            **known,
        )
        return
    minutes, block = max(endured, key=lambda pair: pair[0])
    tired = rise(block, "fatigue")
    notes = [
        f"of {len(timed)} {'session' if len(timed) == 1 else 'sessions'}",
        "" if tired is None else f"fatigue rose by {tired[0]:g}",
        "from totals: a drop within the session would not be seen" if isinstance(block.rows[0], DayTotal) else "",
        "" if minutes == longest else f"the longest, {longest:g} minutes, showed fatigue, stiffness or a drop",
    ]
    yield Fact(
        "session_minutes",
        value=minutes,
        rows=lines(block.rows),
        totals=total_lines(block.rows),
        n=len(timed),
        note="; ".join(filter(None, notes)),
        **known,
    )


def _is_endured(block: Block) -> bool:
    if any((rose := rise(block, scale)) is not None and rose[0] > _MOST_RISE for scale in ("fatigue", "tone")):
        return False
    early, late = _halves([block])
    return not early or _change(early, late).high >= 0
