"""Contacts, unintended and missed activations, stops on command, hands-on prompts: per method."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import Tried
from docgen.case.tried import Method
from docgen.evidence.blocks import (
    Exposure,
    by_method,
    counted_over,
    exposure,
    lines,
    n_attempts,
    recorded,
    total,
    total_lines,
)
from docgen.evidence.fact import Fact, Kind
from docgen.evidence.rate import GARWOOD, garwood_interval
from docgen.evidence.share import share_of

ORDER = 20
_PROMPTED = "attempts with a prompt / attempts of which it is told; Wilson score interval"
_EVENTS = {"contacts": "collisions", "unintended": "unintended activations"}  # column -> what it counts
_RATE_OF: dict[str, tuple[str, float]] = {"contacts": ("distance_m", 100), "unintended": ("minutes", 1)}
QUESTION = "Is the driving safe: collisions, unintended activations, help?"


def facts(case: Case) -> Iterator[Fact]:
    """contacts, person_contacts, unintended, missed and prompts of each method, prompted and prompted_done where they
    are told without their number; contacts_counted, unintended_counted and missed_counted where their rate or share
    does not hold them all; contacts_in_attempts and unintended_in_attempts of the other methods then, so that all can
    be told in one measure."""
    rows_of = by_method(case.tried)
    told_by_attempts: set[str] = set()  # ids of such facts
    for at, method in enumerate(case.trial.methods):
        if rows := rows_of.get(method.id, ()):
            for events in _EVENTS:
                rate = _rate_told(at, method, rows, events)
                yield rate
                for fact in _counted(f"{events}_counted.{method.id}", rate.label, rows, events, rate):
                    told_by_attempts.add(fact.id)
                    yield fact
            yield from _of_activations(method, rows)
            yield from _prompted(method.id, method.name, [row for row in rows if isinstance(row, Row)])
            yield from _marked(method.id, method.name, [row for row in rows if isinstance(row, Row)])
            yield from _added_up(method, rows)
    for events in _EVENTS:
        others = [m for m in case.trial.methods if f"{events}_counted.{m.id}" not in told_by_attempts]
        if len(others) < len(case.trial.methods):
            yield from _in_attempts_too(others, rows_of, events)


def _rate_told(at: int, method: Method, rows: Sequence[Tried], events: str) -> Fact:
    """The rate of events with a method, by what its rows drove or, where they do not tell, by its minutes in all."""
    label, amount, per = f"{_EVENTS[events]}, {method.name}", *_RATE_OF[events]
    rate = _rate(f"{events}.{method.id}", label, rows, events, amount, per)
    counted = _in_all(method, rows, events) if amount == "minutes" and rate.value is None else None
    if counted is None:
        return rate
    note = f"{counted.n_events or 'none'} in {counted.amount:g} minutes, told for all of its rows"
    in_all = rate_fact(rate.id, "safely", label, "rate_minute", counted, amount, per, note)
    return replace(in_all, keys=(f"trial.methods.{at}.minutes",))


def _of_activations(method: Method, rows: Sequence[Tried]) -> Iterator[Fact]:
    """The share of activations that were missed, and their number by attempts where it does not hold them all."""
    share = next(_missed(method.id, method.name, rows), None)
    if share is not None:
        yield share
    yield from _counted(f"missed_counted.{method.id}", f"missed activations, {method.name}", rows, "missed", share)


def _added_up(method: Method, rows: Sequence[Tried]) -> Iterator[Fact]:
    """Collisions with a person and prompts, added up over the rows that record them."""
    for column, label in (
        ("person_contacts", "collisions with a person"),
        ("prompts_verbal", "verbal prompts"),
        ("prompts_physical", "hands-on prompts"),
    ):
        if (count := total(rows, column)) is not None:
            used = recorded(rows, column)
            yield Fact(
                f"{column}.{method.id}",
                "safely",
                f"{label}, {method.name}",
                "count",
                count,
                n_attempts(rows),
                count,
                rows=lines(used),
                totals=total_lines(used),
                formula="sum over the rows that record it",
                note=f"in {n_attempts(rows)} attempts",
            )


def _in_attempts_too(methods: Sequence[Method], rows_of: Mapping[str, Sequence[Tried]], events: str) -> Iterator[Fact]:
    """Events by attempts with the methods whose rate holds them all, to stand beside one that is told so."""
    for method in methods:
        label = f"{_EVENTS[events]}, {method.name}"
        for fact in _counted(f"{events}_in_attempts.{method.id}", label, rows_of.get(method.id, ()), events, None):
            yield replace(fact, listed=False)


def _in_all(method: Method, rows: Sequence[Tried], events: str) -> Exposure | None:
    """Events over the minutes that are told for all of a method's rows; None where a row does not record its events."""
    used = counted_over(rows, events)
    if method.minutes is None or len(used) < len(rows):
        return None
    return Exposure(sum(getattr(row, events) or 0 for row in used), method.minutes, tuple(used), 0)


def _rate(fact_id: str, label: str, rows: Sequence[Tried], events: str, amount: str, per: float) -> Fact:
    kind: Kind = "rate_100_m" if per == 100 else "rate_minute"
    counted = exposure(rows, events, amount)
    unit = "distance" if per == 100 else "minutes"
    if counted is None:
        return Fact(fact_id, "safely", label, kind, None, note=f"{label}: counts with their {unit}")
    left_out = counted.n_blocks_left_out
    driven = round(counted.amount, 1)  # to the tenth: in feet as written down, a sum would have four figures more
    measured = f"{driven:g} m" if per == 100 else f"{driven:g} minutes"
    note = f"{counted.n_events or 'none'} in {measured}"
    note += (
        (
            f"; {left_out} {'session lacks' if left_out == 1 else 'sessions lack'} counts or {unit} and "
            f"{'is' if left_out == 1 else 'are'} left out"
        )
        if left_out
        else ""
    )
    return rate_fact(fact_id, "safely", label, kind, counted, amount, per, note)


def rate_fact(
    fact_id: str, question: str, label: str, kind: Kind, counted: Exposure, amount: str, per: float, note: str = ""
) -> Fact:
    """Events by what was driven, with the exact interval.

    amount, per  the column they are counted by, and how much of it the rate is of
    """
    rate = garwood_interval(counted.n_events, counted.amount, per)
    return Fact(
        fact_id,
        question,
        label,
        kind,
        rate.rate,
        n_attempts(counted.rows),
        counted.n_events,
        rate.low,
        rate.high,
        rows=lines(counted.rows),
        totals=total_lines(counted.rows),
        formula=f"events / {amount} x {per:g}; exact Poisson interval",
        source=GARWOOD,
        note=note,
    )


def _counted(fact_id: str, label: str, rows: Sequence[Tried], events: str, rate: Fact | None) -> Iterator[Fact]:
    """Events by attempts, where no rate says them, or it leaves out some of them."""
    used = counted_over(rows, events)
    n_events = sum(getattr(row, events) or 0 for row in used)
    if used and (rate is None or rate.value is None or n_events > (rate.k or 0)):
        left_out = n_attempts(rows) - n_attempts(used)
        yield Fact(
            fact_id,
            "safely",
            label,
            "in_attempts",
            n_events,
            n_attempts(used),
            n_events,
            rows=lines(used),
            totals=total_lines(used),
            formula="sum over the attempts that record it",
            note=f"{left_out} of {n_attempts(rows)} attempts do not record it" if left_out else "",
        )


def _prompted(method: str, name: str, rows: Sequence[Row]) -> Iterator[Fact]:
    """Attempts with a verbal prompt among those of which it is told, and those done among them."""
    recorded_rows = [row for row in rows if row.prompted is not None]
    with_prompt = [row for row in recorded_rows if row.prompted]
    for fact_id, label, k, n, of in (
        ("prompted", "attempts with a verbal prompt", len(with_prompt), len(recorded_rows), recorded_rows),
        (
            "prompted_done",
            "of the attempts done, with a verbal prompt",
            sum(row.success for row in with_prompt),
            sum(row.success for row in recorded_rows),
            [row for row in recorded_rows if row.success],
        ),
    ):
        if n:
            yield share_of(f"{fact_id}.{method}", "safely", f"{label}, {name}", k, n, _PROMPTED, rows=lines(of))


def _marked(method: str, name: str, rows: Sequence[Row]) -> Iterator[Fact]:
    """Attempts that carry a mark of a verbal prompt, of all, where the others do not say whether there was one."""
    if not any(row.prompt_marked for row in rows):
        return
    marked = [row for row in rows if row.prompt_marked or row.prompted or row.prompts_verbal]
    yield Fact(
        f"prompt_marked.{method}",
        "safely",
        f"attempts marked with a verbal prompt, at least, {name}",
        "in_attempts",
        len(marked),
        len(rows),
        len(marked),
        rows=lines(marked),
        formula="rows that carry the mark; the others do not say whether a prompt was given",
        note="the least there were: on the other attempts it was not recorded",
    )


def _missed(method: str, name: str, rows: Sequence[Tried]) -> Iterator[Fact]:
    used = [row for row in rows if row.activations is not None and row.missed is not None]
    asked = sum((row.activations or 0) + (row.missed or 0) for row in used)
    if not asked:
        return
    k = sum(row.missed or 0 for row in used)
    yield share_of(
        f"missed.{method}",
        "safely",
        f"missed activations, {name}",
        k,
        asked,
        "missed / (made + missed); Wilson score interval",
        rows=lines(used),
        totals=total_lines(used),
    )
