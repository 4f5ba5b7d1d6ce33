"""One stretch of training: shares of the attempts, rates, the slowest release, the largest rises."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.evidence.blocks import exposure_in, lines, recorded
from docgen.evidence.fact import RATES, Fact
from docgen.evidence.facts.after.of_rows import FILE, share
from docgen.evidence.rate import GARWOOD, garwood_interval
from docgen.evidence.training import WINDOW_DAYS, by_day, stop_tasks

WEEKS = f"{WINDOW_DAYS / 7:g} weeks"
WINDOWS = {
    "": "training",
    "_first": f"first {WEEKS} of training",
    "_last": f"last {WEEKS} of training",
    "_now": "at the stage reached",
}
_SCALES = {"fatigue": "fatigue, 0 to 10", "tone": "muscle tone, clinic's own 0 to 4 rating", "pain": "pain, 0 to 10"}
_TURNS = ("corner", "left", "right")


def window_facts(suffix: str, rows: Sequence[SessionRow], case: Case) -> Iterator[Fact]:
    """since.<what><suffix> of the rows of one stretch, which WINDOWS names."""
    yield from _shares(suffix, rows, case)
    yield from _rates(suffix, rows)
    yield from _slowest_release(suffix, rows)
    yield from _rises(suffix, rows)


def _shares(suffix: str, rows: Sequence[SessionRow], case: Case) -> Iterator[Fact]:
    halts = stop_tasks(case)
    turns = {*_TURNS, *(space.id for space in case.spaces if space.kind in ("doorway", "turning", "corridor"))}
    driven = [row for row in rows if row.task not in halts]
    stops = [row for row in rows if row.task in halts]
    turned = [row for row in rows if row.task in turns]
    helped, touched = recorded(rows, "help"), recorded(rows, "missed")
    for name, label, of, counted in (
        ("success", "successful attempts", rows, _done(rows)),
        ("driving", "attempts at driving done", driven, _done(driven)),
        ("stops", "stops done", stops, _done(stops)),
        ("turns", "corners, doors and aisles done", turned, _done(turned)),
        (
            "unaided",
            "successful attempts, without help",
            helped,
            [row for row in helped if row.success and row.help == 0],
        ),
        ("missed", "attempts with a touch that did nothing", touched, [row for row in touched if row.missed]),
    ):
        if of:
            yield share(
                f"since.{name}{suffix}",
                f"{label}, {WINDOWS[suffix]}",
                len(counted),
                len(of),
                lines(of),
                f"{label} / attempts that record it; Wilson score interval",
            )


def _done(rows: Sequence[SessionRow]) -> list[SessionRow]:
    return [row for row in rows if row.success]


def _rates(suffix: str, rows: Sequence[SessionRow]) -> Iterator[Fact]:
    groups = [group for _, group in by_day(rows)]
    for events, amount, kind, per in RATES:
        if counts := exposure_in(groups, events, amount):
            rate = garwood_interval(counts.n_events, counts.amount, per)
            yield Fact(
                f"since.{events}{suffix}",
                "after",
                f"{'collisions' if events == 'contacts' else 'unintended activations'}, {WINDOWS[suffix]}",
                kind,
                rate.rate,
                len(counts.rows),
                counts.n_events,
                rate.low,
                rate.high,
                rows=lines(counts.rows),
                keys=FILE,
                formula=f"events / {amount} x {per:g}; exact Poisson interval",
                source=GARWOOD,
            )


def _slowest_release(suffix: str, rows: Sequence[SessionRow]) -> Iterator[Fact]:
    if timed := recorded(rows, "release_s"):
        slowest = max(timed, key=lambda row: row.release_s or 0)
        yield Fact(
            f"since.release_slowest{suffix}",
            "after",
            f"slowest release, {WINDOWS[suffix]}",
            "seconds",
            slowest.release_s,
            len(timed),
            rows=(slowest.line,),
            keys=FILE,
            formula="largest release_s",
        )


def _rises(suffix: str, rows: Sequence[SessionRow]) -> Iterator[Fact]:
    for scale, label in _SCALES.items():
        reached = []
        for _, group in by_day(rows):
            before, after = recorded(group, f"{scale}_before"), recorded(group, f"{scale}_after")
            if before and after:
                rise = getattr(after[-1], f"{scale}_after") - getattr(before[0], f"{scale}_before")
                reached.append((rise, (before[0].line, after[-1].line)))
        if reached:
            largest, at = max(reached)
            yield Fact(
                f"since.{scale}_rise{suffix}",
                "after",
                f"largest rise of {label}, in a session, {WINDOWS[suffix]}",
                "score",
                largest,
                len(reached),
                rows=tuple(dict.fromkeys(at)),
                keys=FILE,
                formula="after - before, largest of the sessions that record both",
            )
