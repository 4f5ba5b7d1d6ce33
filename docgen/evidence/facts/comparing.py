"""The requested control beside each other control tried: successful attempts, contacts, time, and how fair that was."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import Tried
from docgen.case.tried import Method
from docgen.evidence.blocks import by_method, exposure, lines, n_attempts, tally, total_lines
from docgen.evidence.difference import NEWCOMBE, fisher_exact, newcombe_interval, verdict
from docgen.evidence.fact import Fact
from docgen.evidence.facts.driving import share
from docgen.evidence.fairness import MOST_SIGNS_FOR_CLEARLY, Sign, signs
from docgen.evidence.further_attempts import further_attempts
from docgen.evidence.proportion import wilson_interval
from docgen.evidence.rate import rate_ratio
from docgen.evidence.time import ratio_of_geometric_means

ORDER = 50
QUESTION = "Is it better than the other controls tried, and was that fair?"


def facts(case: Case) -> Iterator[Fact]:
    """difference, by_chance, same_day, shared, shared_asked, same_day_by_chance, contact_ratio, time_ratio, further and
    unfair.<method> of each method but the one asked for."""
    rows_of = by_method(case.tried)
    asked = case.requested_method
    chosen = rows_of.get(asked.id, ()) if asked else ()
    if not asked or not chosen:
        return
    for method in case.trial.methods:
        rows = rows_of.get(method.id, ())
        if rows and method is not asked:
            unfair = signs(chosen, rows)
            yield from _success(asked, method, chosen, rows, unfair)
            yield from _contacts(method, chosen, rows)
            yield from _times(method, chosen, rows)
            yield from _unfair(method, chosen, rows, unfair)


def _success(
    asked: Method, method: Method, chosen: tuple[Tried, ...], rows: tuple[Tried, ...], unfair: tuple[Sign, ...]
) -> Iterator[Fact]:
    mine, other = tally(chosen), tally(rows)
    apart = newcombe_interval(*mine, *other)
    judged = verdict(wilson_interval(*mine), wilson_interval(*other))
    words = (
        judged.words.replace("clearly_worse", "worse_so_far").replace("clearly_better", "better_so_far")
        if len(unfair) > MOST_SIGNS_FOR_CLEARLY
        else judged.words
    )
    known: Any = {
        "question": "comparing",
        "n": n_attempts(chosen + rows),
        "rows": lines(chosen + rows),
        "totals": total_lines(chosen + rows),
        "keys": ("configuration.method",),
    }
    few = "; used fewer than 5 times" if judged.too_few or judged.chosen_too_few else ""
    yield Fact(
        f"difference.{method.id}",
        label=f"successful attempts, {asked.name} minus {method.name}",
        kind="difference",
        value=apart.difference,
        low=apart.low,
        high=apart.high,
        verdict=words,
        formula="share done with the requested control minus share done with the other; hybrid score interval. "
        "Clearly fewer or "
        f"more: the interval excludes zero and at most {MOST_SIGNS_FOR_CLEARLY} sign of unfairness; in this trial: "
        "15 points or more",
        source=NEWCOMBE,
        note=f"{mine[0]} of {mine[1]} against {other[0]} of {other[1]}{few}",
        **known,
    )
    yield from _same_day(asked, method, chosen, rows)
    yield _by_chance("by_chance", method, "", mine, other, known)
    if not judged.words.startswith("clearly"):
        yield _further(method, mine, other, known)


def _by_chance(
    name: str, method: Method, where: str, chosen: tuple[int, int], other: tuple[int, int], known: dict[str, Any]
) -> Fact:
    """How far luck alone goes: without it nobody can weigh "worse so far", and a reader works the same test out."""
    return Fact(
        f"{name}.{method.id}",
        label=f"how often two equal controls would differ as much as this one and {method.name} do{where}",
        kind="proportion",
        value=fisher_exact(*chosen, *other).two_sided,
        formula="Fisher's exact test, two-sided, as if attempts were independent; belongs to no interval",
        source="Fisher 1935",
        note=f"{chosen[0]} of {chosen[1]} against {other[0]} of {other[1]}",
        **{key: known[key] for key in ("question", "rows", "totals", "keys")},
    )


def _same_day(asked: Method, method: Method, chosen: Sequence[Tried], rows: Sequence[Tried]) -> Iterator[Fact]:
    """The same difference over shared days alone, when those are not all the days."""
    shared = {row.date for row in chosen} & {row.date for row in rows}
    mine, other = (tuple(row for row in part if row.date in shared) for part in (chosen, rows))
    if not shared or (len(mine), len(other)) == (len(chosen), len(rows)):
        return  # the shared days are all the days
    (k, n), (j, m) = tally(mine), tally(other)
    apart = newcombe_interval(k, n, j, m)
    known: Any = {
        "question": "comparing",
        "rows": lines((*mine, *other)),
        "totals": total_lines((*mine, *other)),
        "keys": ("configuration.method",),
    }
    yield _by_chance("same_day_by_chance", method, " on the days they share", (k, n), (j, m), known)
    yield Fact(
        f"shared_days.{method.id}",
        label=f"days that {asked.name} and {method.name} share",
        kind="count",
        value=len(shared),
        k=len(shared),
        formula="days with attempts of both",
        listed=False,
        **known,
    )
    for name, which, rows_of_it in (("shared_asked", asked, mine), ("shared", method, other)):
        yield share(
            f"{name}.{method.id}",
            "comparing",
            f"successful attempts on the days that {asked.name} and {method.name} share, {which.name}",
            rows_of_it,
            tally(rows_of_it),
        )
    yield Fact(
        f"same_day.{method.id}",
        "comparing",
        f"on shared days only, {asked.name} minus {method.name}",
        "difference",
        apart.difference,
        n + m,
        None,
        apart.low,
        apart.high,
        rows=lines((*mine, *other)),
        totals=total_lines((*mine, *other)),
        note=f"{k} of {n} against {j} of {m}",
        formula="as above, over days on which both were tried",
        source=NEWCOMBE,
    )


def _further(method: Method, chosen: tuple[int, int], other: tuple[int, int], known: dict[str, Any]) -> Fact:
    compared = further_attempts(*chosen, *other)
    label = f"further attempts with each, to tell {method.name} apart"
    formula = (
        "two-proportion sample size, normal approximation, 5% two-sided, 80% power, from the shares seen; a lower guess"
    )
    if compared is None:
        return Fact(
            f"further.{method.id}",
            label=label,
            kind="count",
            value=None,
            formula=formula,
            note="the shares seen are equal, so no number of attempts can be planned",
            **known,
        )
    more = max(compared.further_1, compared.further_2)
    return Fact(
        f"further.{method.id}",
        label=label,
        kind="count",
        value=more,
        k=more,
        formula=formula,
        source="two-proportion sample size (from memory)",
        **known,
    )


def _contacts(method: Method, chosen: tuple[Tried, ...], rows: tuple[Tried, ...]) -> Iterator[Fact]:
    mine, other = exposure(chosen, "contacts", "distance_m"), exposure(rows, "contacts", "distance_m")
    if mine is None or other is None:
        return
    compared = rate_ratio(other.n_events, other.amount, mine.n_events, mine.amount)
    yield Fact(
        f"contact_ratio.{method.id}",
        "comparing",
        f"collisions for each meter, {method.name} over the requested control",
        "ratio",
        compared.ratio,
        n_attempts((*mine.rows, *other.rows)),
        other.n_events + mine.n_events,
        compared.low if compared.ratio is not None else None,
        compared.high,
        rows=lines((*mine.rows, *other.rows)),
        totals=total_lines((*mine.rows, *other.rows)),
        formula="ratio of the two rates; exact conditional interval",
        source="Clopper-Pearson limits of the share of all collisions; Fay 2010, R Journal 2(1):53-58",
        note=f"{other.n_events} in {other.amount:g} m against {mine.n_events} in {mine.amount:g} m",
    )


def _times(method: Method, chosen: tuple[Tried, ...], rows: tuple[Tried, ...]) -> Iterator[Fact]:
    """Only attempts that were done, and only tasks done with both: an unfinished one has no time, and totals have
    none."""
    timed_mine, timed_other = _timed(chosen), _timed(rows)
    shared = {r.task for r in timed_mine} & {r.task for r in timed_other}
    mine, other = ([r for r in timed if r.task in shared] for timed in (timed_mine, timed_other))
    if not shared:
        return
    compared = ratio_of_geometric_means([r.seconds for r in other if r.seconds], [r.seconds for r in mine if r.seconds])
    yield Fact(
        f"time_ratio.{method.id}",
        "comparing",
        f"time for tasks done with both, {method.name} over the requested control",
        "ratio",
        compared.ratio,
        len(mine) + len(other),
        None,
        compared.low,
        compared.high,
        rows=lines((*mine, *other)),
        formula="ratio of geometric means; Welch interval on logs",
        source="Welch 1947, Biometrika 34:28-35 (from memory)",
        note=compared.why,
    )


def _timed(rows: Sequence[Tried]) -> list[Row]:
    return [row for row in rows if isinstance(row, Row) and row.success and row.seconds]


def _unfair(
    method: Method, chosen: tuple[Tried, ...], rows: tuple[Tried, ...], unfair: tuple[Sign, ...]
) -> Iterator[Fact]:
    """One fact for each sign; one that says so when the rows show none."""
    for sign in unfair or (
        Sign(
            "none", "no sign of unfairness in the rows; whether it was set up at its best is for the therapist to say"
        ),
    ):
        yield Fact(
            f"unfair.{method.id}.{sign.code}",
            "comparing",
            f"fairness, {method.name}",
            "words",
            None,
            n_attempts(chosen + rows),
            rows=lines(chosen + rows),
            totals=total_lines(chosen + rows),
            verdict=sign.code,
            text=sign.text,
            formula="order, days, tasks, helpers, speeds and meters of both controls",
            source="common practice, no source",
        )
