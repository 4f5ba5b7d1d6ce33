"""Findings and features looked for by any words, each with what it calls for or is called for by, ready to be added."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from docgen.case.keys import keys_at
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.desk.fields import label_of
from docgen.fit.feature import feature_entries, features
from docgen.fit.finding import finding_entries, finding_name, vocabulary
from docgen.nearest import Entry, nearest

_MOST = 8
_SAYS: KeyPath = ("findings", 0, "says")


class Hit(Struct, frozen=True):
    """A word of a vocabulary that fits.

    leads    one line each: what follows from it
    says     the question whose answer a new entry needs besides; empty where it needs none
    is_there whether the case has it
    topic, of_list  where a new entry goes
    """

    id: str
    name: str
    meaning: str
    leads: tuple[str, ...]
    says: str
    is_there: bool
    topic: str
    of_list: tuple[str, ...]


class Hits(Struct, frozen=True):
    """What fits, by kind."""

    title: str
    hits: tuple[Hit, ...]


def search(case: Case, words: str) -> tuple[Hits, ...]:
    """The findings and the features that words fit, best first."""
    return (
        Hits("Findings", tuple(_finding(case, entry) for entry in _fitting(words, finding_entries()))),
        Hits("Features", tuple(_feature(case, entry) for entry in _fitting(words, feature_entries()))),
    )


def _fitting(words: str, entries: Iterable[Entry]) -> list[Entry]:
    return nearest(words, entries, _MOST) if words.strip() else []


def _finding(case: Case, entry: Entry) -> Hit:
    known, meaning = features().values(), vocabulary()[entry.id]
    calls = [feature.name for feature in known if entry.id in feature.called_for_by]
    against = [f.name for f in known if any(entry.id == speaks.finding for speaks in f.spoken_against_by)]
    leads = (_line("Calls for", calls), _line("A reason against", against), f"To record: {meaning.record}")
    there = any(finding.id == entry.id for finding in case.findings)
    asks = label_of(_SAYS, keys_at(_SAYS[:-1])["says"])
    return Hit(entry.id, entry.name, entry.meaning, tuple(filter(None, leads)), asks, there, "body",
               ("findings",))  # fmt: skip


def _feature(case: Case, entry: Entry) -> Hit:
    feature = features()[entry.id]
    against = [f"{finding_name(speaks.finding)} ({speaks.risk})" for speaks in feature.spoken_against_by]
    leads = (
        _line("Called for by", [finding_name(finding) for finding in feature.called_for_by]),
        _line("Reason enough, where it is asked for", [finding_name(finding) for finding in feature.grounded_by]),
        _line("Reasons against", against),
        *(f"Must not go without {' or '.join(features()[n].name for n in need.any_of)}" for need in feature.needs),
    )
    there = any(chosen.id == entry.id for chosen in case.configuration.features)
    of_list = ("configuration", "features")
    return Hit(entry.id, entry.name, entry.meaning, tuple(filter(None, leads)), "", there, "choice", of_list)


def _line(head: str, names: list[str]) -> str:
    return f"{head}: {', '.join(dict.fromkeys(names))}" if names else ""
