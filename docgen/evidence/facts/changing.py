"""Change from session to session and within one, and how long a session the record supports."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.evidence.blocks import Block, blocks, lines, total
from docgen.evidence.difference import newcombe_interval
from docgen.evidence.fact import Fact
from docgen.evidence.kendall import kendall_test
from docgen.evidence.trend import overlap, theil_sen, thirds

ORDER = 45
QUESTION = "Does it improve with practice and hold through a session?"
# What still counts as holding up, within one session: common practice, no source.
_MOST_RISE, _MOST_DROP = 2, 0.15


def facts(case: Case) -> Iterator[Fact]:
    """per_session, trend and late of each method; overlap with each other method; session_minutes of the one asked for."""
    every = blocks(case.records)
    shares: dict[str, list[float]] = {}
    for method in case.trial.methods:
        mine = [block for block in every if block.method == method.id]
        shares[method.id] = [sum(r.success for r in b.rows) / len(b.rows) for b in mine]
        yield from _trend(method.id, method.name, mine, shares[method.id])
        yield from _late(method.id, method.name, mine)
    asked = case.configuration.method or ""
    for method in case.trial.methods:
        if method.id != asked and len(shares.get(asked, ())) > 1 and len(shares[method.id]) > 1:
            found = overlap(shares[method.id], shares[asked])
            rows = tuple(row for block in every if block.method in (asked, method.id) for row in block.rows)
            yield Fact(
                f"overlap.{method.id}", "changing", f"sessions in which the control asked for did better than {method.name}",
                "proportion", found.nap, found.n_first * found.n_second, found.n_better + found.n_tied / 2, rows=lines(rows),
                formula="pairs of sessions in which it did better, ties counting half (nonoverlap of all pairs)",
                source="Parker and Vannest 2009, Behav Ther 40:357-367",
            )
    yield from _length([block for block in every if block.method == asked])


def _trend(method: str, name: str, mine: Sequence[Block], shares: Sequence[float]) -> Iterator[Fact]:
    if len(mine) < 3:
        return
    places = list(range(1, len(mine) + 1))
    slope, test = theil_sen(places, shares), kendall_test(places, shares)
    p = "" if test.p_two_sided is None else f"; Kendall's test, two-sided p {test.p_two_sided:.2f}"
    yield Fact(f"trend.{method}", "changing", f"change of attempts done per session, {name}", "difference", slope.slope,
               len(mine), None, slope.low, slope.high, rows=lines(r for b in mine for r in b.rows),
               formula=f"Theil-Sen slope over sessions{p}",
               source="Sen 1968, J Am Stat Assoc 63:1379-1389 (from memory)",
               note="" if slope.low is not None else "too few sessions to bound the change")


def _late(method: str, name: str, mine: Sequence[Block]) -> Iterator[Fact]:
    found = thirds([[float(r.success) for r in _in_order(b.rows)] for b in mine])
    if found is None:
        return
    early, late = found.first, found.last
    interval = newcombe_interval(int(sum(late)), len(late), int(sum(early)), len(early))
    yield Fact(f"late.{method}", "changing", f"last third of a session less the first, {name}", "difference",
               interval.difference, len(early) + len(late), None, interval.low, interval.high,
               rows=lines(r for b in mine for r in b.rows),
               formula="share done in last thirds, less share done in first thirds; hybrid score interval",
               source="thirds: common practice, no source; Newcombe 1998, Stat Med 17:873-890, method 10")


def _in_order(rows: Sequence[Row]) -> list[Row]:
    return sorted(rows, key=lambda row: (row.attempt is None, row.attempt or 0))


def _length(mine: Sequence[Block]) -> Iterator[Fact]:
    """The longest session with the control asked for in which nothing recorded says it was too long."""
    timed = [(minutes, block) for block in mine if (minutes := total(block.rows, "minutes"))]
    if not timed:
        return
    held = [(minutes, block) for minutes, block in timed if _held(block)]
    minutes, block = max(held, key=lambda pair: pair[0], default=(None, mine[0]))
    longest = max(minutes for minutes, _ in timed)
    note = "" if minutes == longest else f"the longest session, {longest:g} minutes, showed tiredness, stiffness or a drop"
    yield Fact("session_minutes", "changing", "longest session that held up", "minutes", minutes, len(timed),
               rows=lines(block.rows), note=note,
               formula=f"longest block in which tiredness and stiffness rose by {_MOST_RISE} points at most and attempts "
               f"done fell by less than {_MOST_DROP * 100:.0f} points from first to last third",
               source="common practice, no source")


def _held(block: Block) -> bool:
    for scale in ("fatigue", "tone"):
        before = [getattr(r, f"{scale}_before") for r in block.rows if getattr(r, f"{scale}_before") is not None]
        after = [getattr(r, f"{scale}_after") for r in block.rows if getattr(r, f"{scale}_after") is not None]
        if before and after and after[-1] - before[0] > _MOST_RISE:
            return False
    found = thirds([[float(r.success) for r in _in_order(block.rows)]])
    return found is None or found.change > -_MOST_DROP or len(found.first) < 3
