"""The control asked for beside every other control tried: attempts done, contacts, time, and how fair the comparison was."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.tried import Method
from docgen.evidence.blocks import Block, blocks, by_method, exposure, lines
from docgen.evidence.difference import fisher_exact, newcombe_interval, verdict
from docgen.evidence.fact import Fact
from docgen.evidence.further_attempts import further_attempts
from docgen.evidence.proportion import wilson_interval
from docgen.evidence.rate import rate_ratio
from docgen.evidence.time import ratio_of_geometric_means

ORDER = 20
QUESTION = "Is it better than the other controls tried?"
_NEWCOMBE = "Newcombe 1998, Stat Med 17:873-890, method 10"


def facts(case: Case) -> Iterator[Fact]:
    """difference, fisher, contact_ratio, time_ratio, further and unfair.<method> of each method but the one asked for."""
    rows_of = by_method(case.records)
    chosen = rows_of.get(case.configuration.method or "", ())
    if not chosen:
        return
    for method in case.trial.methods:
        rows = rows_of.get(method.id, ())
        if rows and method.id != case.configuration.method:
            yield from _success(method, chosen, rows)
            yield from _contacts(method, chosen, rows)
            yield from _times(method, chosen, rows)
            yield from _unfair(case, method, chosen, rows)


def _success(method: Method, chosen: tuple[Row, ...], rows: tuple[Row, ...]) -> Iterator[Fact]:
    k_chosen, k = sum(row.success for row in chosen), sum(row.success for row in rows)
    found = newcombe_interval(k_chosen, len(chosen), k, len(rows))
    words = verdict(wilson_interval(k_chosen, len(chosen)), wilson_interval(k, len(rows)))
    few = words.too_few or words.chosen_too_few
    known: Any = {"question": "comparing", "n": len(chosen) + len(rows), "rows": lines(chosen + rows),
                  "keys": ("configuration.method",)}
    yield Fact(
        f"difference.{method.id}", label=f"attempts done: control asked for, less {method.name}", kind="difference",
        value=found.difference, low=found.low, high=found.high, verdict=words.words,
        formula="share done with the control asked for, less share done with the other; hybrid score interval",
        source=_NEWCOMBE, note="used fewer than 5 times" if few else "", **known,
    )
    yield Fact(
        f"fisher.{method.id}", label=f"chance of so large a difference if {method.name} were as good", kind="p",
        value=fisher_exact(k_chosen, len(chosen), k, len(rows)).two_sided,
        formula="Fisher's exact test, two-sided; belongs to no interval", source="Fisher 1935", **known,
    )
    if words.words not in ("clearly_worse", "clearly_better"):
        yield _further(method, (k_chosen, len(chosen)), (k, len(rows)), known)


def _further(method: Method, chosen: tuple[int, int], other: tuple[int, int], known: dict[str, Any]) -> Fact:
    found = further_attempts(*chosen, *other)
    label = f"further attempts with {method.name} to tell the two apart"
    formula = "two-proportion sample size, normal approximation, 5% two-sided, 80% power, from the shares seen"
    if found is None:
        return Fact(f"further.{method.id}", label=label, kind="count", value=None, formula=formula,
                    note="the shares seen are equal, so no number of attempts can be planned", **known)
    more = max(found.further_1, found.further_2)
    note = f"{found.further_2} with {method.name} and {found.further_1} with the control asked for; a lower guess"
    return Fact(f"further.{method.id}", label=label, kind="count", value=found.further_2, k=more, formula=formula,
                source="two-proportion sample size (from memory)", note=note, **known)


def _contacts(method: Method, chosen: tuple[Row, ...], rows: tuple[Row, ...]) -> Iterator[Fact]:
    mine, other = exposure(chosen, "contacts", "distance_m"), exposure(rows, "contacts", "distance_m")
    if mine is None or other is None:
        return
    found = rate_ratio(other.n_events, other.amount, mine.n_events, mine.amount)
    yield Fact(
        f"contact_ratio.{method.id}", "comparing", f"contacts per metre: {method.name} over the control asked for", "ratio",
        found.ratio, len(mine.rows) + len(other.rows), other.n_events + mine.n_events, found.low, found.high,
        rows=lines((*mine.rows, *other.rows)), formula="ratio of the two rates; exact conditional interval",
        source="Clopper-Pearson limits of the share of all contacts; Fay 2010, R Journal 2(1):53-58",
        note="" if found.ratio is not None else f"no contacts with the control asked for, {other.n_events} with the other",
    )


def _times(method: Method, chosen: tuple[Row, ...], rows: tuple[Row, ...]) -> Iterator[Fact]:
    """Only attempts that were done, and only tasks done with both: an unfinished one has no time."""
    shared = {r.task for r in chosen if r.success and r.seconds} & {r.task for r in rows if r.success and r.seconds}
    mine = [r for r in chosen if r.task in shared and r.success and r.seconds]
    other = [r for r in rows if r.task in shared and r.success and r.seconds]
    if not shared:
        return
    found = ratio_of_geometric_means([r.seconds for r in other], [r.seconds for r in mine])
    yield Fact(
        f"time_ratio.{method.id}", "comparing", f"time for tasks done with both: {method.name} over the control asked for",
        "ratio", found.ratio, len(mine) + len(other), None, found.low, found.high, rows=lines((*mine, *other)),
        formula="ratio of geometric means; Welch interval on logs", source="Welch 1947, Biometrika 34:28-35 (from memory)",
        note=found.why,
    )


# ---- how fair the comparison was ---------------------------------------------------------------------


def _unfair(case: Case, method: Method, chosen: tuple[Row, ...], rows: tuple[Row, ...]) -> Iterator[Fact]:
    """Signs that something other than the control may explain the difference; one fact for each sign."""
    every = blocks(case.records)
    mine = [b for b in every if b.method == case.configuration.method]
    other = [b for b in every if b.method == method.id]
    for code, text in _signs(mine, other, chosen, rows):
        yield Fact(f"unfair.{method.id}.{code}", "comparing", f"fairness, {method.name}", "words", None,
                   len(chosen) + len(rows), rows=lines(chosen + rows), verdict=code, text=text,
                   formula="order, tasks, helpers, speeds and days of both methods", source="common practice, no source")


def _signs(mine: list[Block], other: list[Block], chosen: tuple[Row, ...], rows: tuple[Row, ...]) -> Iterator[tuple[str, str]]:
    days_mine, days_other = {b.on for b in mine}, {b.on for b in other}
    shared = days_mine & days_other
    if not shared:
        yield "no_shared_day", "never tried on the same day"
    places = {block.on: (_place(block), _place(next(o for o in other if o.on == block.on))) for block in mine if block.on in shared}
    known = {day: pair for day, pair in places.items() if None not in pair}
    if known and all(a < b for a, b in known.values()):
        yield "always_first", "the control asked for came first on every shared day, so tiredness favours it"
    elif known and all(a > b for a, b in known.values()):
        yield "always_last", "the control asked for came last on every shared day, so practice favours it"
    if len(days_mine) >= 2 * len(days_other):
        yield "more_days", f"the control asked for had {len(days_mine)} days, the other {len(days_other)}"
    if only := sorted({r.task for r in chosen} ^ {r.task for r in rows}):
        yield "other_tasks", f"not the same tasks: {', '.join(only)}"
    for column, code, words in (("supervisor", "other_helper", "not the same helper"), ("speed_m_s", "other_speed", "not the same speed")):
        a, b = ({getattr(r, column) for r in part if getattr(r, column) is not None} for part in (chosen, rows))
        if a and b and not a & b:
            yield code, words


def _place(block: Block) -> int | None:
    return next((row.order for row in block.rows if row.order is not None), None)
