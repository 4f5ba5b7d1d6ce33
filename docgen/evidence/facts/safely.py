"""Contacts, unintended and missed activations, stops on request, hands-on prompts: per method."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.evidence.blocks import by_method, exposure, lines, recorded, total
from docgen.evidence.fact import Fact, Kind
from docgen.evidence.proportion import wilson_interval
from docgen.evidence.rate import garwood_interval

ORDER = 20
QUESTION = "Is the driving safe: contacts, unintended activations, help?"
_SOURCE = "Garwood 1936, Biometrika 28:437-442"


def facts(case: Case) -> Iterator[Fact]:
    """contacts, person_contacts, unintended, missed and prompts of each method."""
    rows_of = by_method(case.records)
    for method in case.trial.methods:
        rows = rows_of.get(method.id, ())
        if not rows:
            continue
        name = method.name
        yield _rate(f"contacts.{method.id}", f"contacts, {name}", rows, "contacts", "distance_m", 100)
        yield _rate(f"unintended.{method.id}", f"unintended activations, {name}", rows, "unintended", "minutes", 1)
        yield from _missed(method.id, name, rows)
        for column, label in (
            ("person_contacts", "contacts with a person"),
            ("prompts_verbal", "spoken prompts"),
            ("prompts_physical", "hands-on prompts"),
        ):
            if (count := total(rows, column)) is not None:
                used = recorded(rows, column)
                yield Fact(
                    f"{column}.{method.id}",
                    "safely",
                    f"{label}, {name}",
                    "count",
                    count,
                    len(rows),
                    count,
                    rows=lines(used),
                    formula="sum over the rows that record it",
                    note=f"in {len(rows)} attempts",
                )


def _rate(fact_id: str, label: str, rows: Sequence[Row], events: str, amount: str, per: float) -> Fact:
    kind: Kind = "rate_100_m" if per == 100 else "rate_minute"
    counted = exposure(rows, events, amount)
    unit = "distance" if per == 100 else "minutes"
    if counted is None:
        return Fact(fact_id, "safely", label, kind, None, note=f"{label}: counts with their {unit}")
    rate = garwood_interval(counted.n_events, counted.amount, per)
    left_out = counted.n_blocks_left_out
    measured = f"{counted.amount:g} m" if per == 100 else f"{counted.amount:g} minutes"
    note = f"{counted.n_events or 'none'} in {measured}"
    note += (
        (
            f"; {left_out} {'session lacks' if left_out == 1 else 'sessions lack'} counts or {unit} and "
            f"{'is' if left_out == 1 else 'are'} left out"
        )
        if left_out
        else ""
    )
    return Fact(
        fact_id,
        "safely",
        label,
        kind,
        rate.rate,
        len(counted.rows),
        counted.n_events,
        rate.low,
        rate.high,
        rows=lines(counted.rows),
        formula=f"events / {amount} x {per:g}; exact Poisson interval",
        source=_SOURCE,
        note=note,
    )


def _missed(method: str, name: str, rows: Sequence[Row]) -> Iterator[Fact]:
    used = [row for row in rows if row.activations is not None and row.missed is not None]
    asked = sum((row.activations or 0) + (row.missed or 0) for row in used)
    if not asked:
        return
    k = sum(row.missed or 0 for row in used)
    interval = wilson_interval(k, asked)
    yield Fact(
        f"missed.{method}",
        "safely",
        f"missed activations, {name}",
        "proportion",
        interval.share,
        asked,
        k,
        interval.low,
        interval.high,
        rows=lines(used),
        formula="missed / (made + missed); Wilson score interval",
        source="Wilson 1927; method 3 of Newcombe 1998, Stat Med 17:857-872",
    )
