"""A number with everything a reader may ask of it: interval, count, unit, rows, keys, formula, source."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Literal

from msgspec import Struct

from docgen.evidence.stopping_rule import Stopping, release_used
from docgen.units import Side

Kind = Literal[
    "proportion",  # value 0 to 1, with `k` of `n`
    "difference",  # of two proportions, -1 to 1
    "rate_100_m",
    "rate_minute",  # events per 100 m, per minute; `k` events
    "in_attempts",  # `k` events in `n` attempts, where nothing is recorded that they happened over
    "seconds",
    "metres",
    "speed",
    "degrees",
    "turn_rate",
    "millimetres",
    "limit",  # metres that must not be passed
    "minutes",
    "minutes_a_day",
    "count",
    "score",
    "ratio",
    "p",
    "words",  # no number: `text` says what the record supports
]

# events, the amount they are counted over, kind of the rate, and per how much of it
RATES: tuple[tuple[str, str, Kind, float], ...] = (
    ("contacts", "distance_m", "rate_100_m", 100.0),
    ("unintended", "minutes", "rate_minute", 1.0),
)

UNITS: dict[str, str] = {
    "proportion": "proportion",
    "difference": "proportion",
    "rate_100_m": "per 100 m",
    "rate_minute": "per minute",
    "in_attempts": "count",
    "seconds": "s",
    "metres": "m",
    "speed": "m/s",
    "degrees": "degrees",
    "turn_rate": "degrees per second",
    "millimetres": "mm",
    "limit": "m",
    "minutes": "min",
    "minutes_a_day": "minutes a day",
    "count": "count",
    "score": "points",
    "ratio": "ratio",
    "p": "probability",
    "words": "",
}


class Fact(Struct, frozen=True):
    """One result. A missing value is None and `note` says why; it is never nan and never a guess.

    id        dotted name, such as success.head_pads.doorway
    question  the question it belongs to, an id of docgen.evidence.QUESTIONS
    label     what it measures, in a few words
    kind      what sort of number; it fixes the unit and the way it is printed
    low, high interval at `level`, where there is one
    n         how many observations it rests on; `k` how many of them count
    rows      line numbers in the CSV of rows; `totals` those in totals.csv; `keys` key paths of the case
    verdict   for a comparison: clearly_worse, worse_so_far, not_told_apart, better_so_far or clearly_better
    listed    whether the page of `docgen evidence` has it; one too fine for a page is for documents and programs alone
    side      which way it may be rounded where it is printed: a limit goes to the safe side
    """

    id: str
    question: str
    label: str
    kind: Kind
    value: float | None
    n: int = 0
    k: float | None = None
    low: float | None = None
    high: float | None = None
    level: float = 0.95
    rows: tuple[int, ...] = ()
    totals: tuple[int, ...] = ()
    keys: tuple[str, ...] = ()
    formula: str = ""
    source: str = ""
    verdict: str = ""
    note: str = ""
    text: str = ""
    listed: bool = True
    side: Side = "near"

    @property
    def unit(self) -> str:
        """Unit of value, low and high."""
        return UNITS[self.kind]

    def as_json(self) -> dict[str, Any]:
        """The fact as the evidence command prints it."""
        plain = (
            "id",
            "question",
            "label",
            "value",
            "low",
            "high",
            "n",
            "k",
            "level",
            "verdict",
            "note",
            "formula",
            "source",
            "text",
        )
        return {name: getattr(self, name) for name in plain} | {
            "unit": self.unit,
            "rows": list(self.rows),
            "totals": list(self.totals),
            "keys": list(self.keys),
        }


class Evidence(Mapping[str, Fact]):
    """Every fact of a case by id, in the order the questions are asked; `stopping` is the rule behind those of
    stopping."""

    def __init__(self, facts: Iterator[Fact], stopping: Stopping | None = None) -> None:
        self.stopping = stopping or Stopping(release_used(()))
        self._facts: dict[str, Fact] = {}
        for fact in facts:
            if fact.id in self._facts:
                raise ValueError(f"two facts have the id {fact.id}")
            self._facts[fact.id] = fact
        self._families: dict[str, dict[str, Fact]] = {}
        for fact_id, fact in self._facts.items():
            name, _, member = fact_id.rpartition(".")
            self._families.setdefault(name, {})[member] = fact

    def __getitem__(self, fact_id: str) -> Fact:
        return self._facts[fact_id]

    def __iter__(self) -> Iterator[str]:
        return iter(self._facts)

    def __len__(self) -> int:
        return len(self._facts)

    def of(self, *parts: str | None) -> Fact | None:
        """The fact success.head_pads for of("success", "head_pads"); None when there is none."""
        return self._facts.get(".".join(part or "" for part in parts))

    def family(self, name: str) -> dict[str, Fact]:
        """Facts one step below a name: family("success") has head_pads but not head_pads.doorway."""
        return {**self._families.get(name, {})}
