"""The record holds what every packet needs.

Asks: Whether there are a name, a date of birth, an evaluator, a trial with rows or a reason why none was possible, a
    line with a code or the word that it has none, and for each way of stopping where it is and who reaches it.
Why a payer asks: Without them nobody knows who asks for what, on whose word, and how the chair is stopped.
What settles it: The keys that the answer names.
Source: 42 CFR 410.38(d)(1)(i) (name, description of the item); US national coverage determination 280.3, question 4;
    the rest common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.attendant import caregiver_drives
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import Mend, NewEntry
from docgen.criteria.sentences import capital, listed

HEADING = "record"
CLAIM = "The record holds what every packet needs"
HOLDS = True
SHOWN_IN = ("letter: Equipment Requested", "order: Stopping Means")
SETTINGS: dict[str, object] = {}
_STOP: KeyPath = ("configuration", "stop")
_ROWS: KeyPath = ("trial", "methods")
_BY = {"stop_switch": "the stop switch", "power_off": "the power switch", "other_way": "the other way to cut the power"}

Lack = tuple[str, KeyPath, str, NewEntry | None]  # in words, where it belongs, the key to fill, the entry to add


def answer(grounds: Grounds) -> Answer:
    lacks = [*_lacks(grounds.case)]
    if lacks:
        add = tuple(entry for _, _, _, entry in lacks if entry)
        fill = tuple(dict.fromkeys(key for _, _, key, _ in lacks if key))
        rows = any(where == _ROWS for _, where, _, _ in lacks)
        missing_words = [
            *(["trial.csv or totals.csv (docgen rows takes either from a sheet)"] if rows else []),
            *fill,
            *(f"[[{entry.table}]]" for entry in add),
        ]
        return cannot_tell(
            _reason(lacks),
            *(where for _, where, _, _ in lacks),
            mend=Mend(f"Fill in {listed(missing_words)}.", fill=fill, add=add),
        )
    return met("Name, date of birth, evaluator, trial, lines and ways of stopping are recorded.", ("client",), _STOP)


def _reason(lacks: Sequence[Lack]) -> str:
    """What is not recorded; of several parts of the case each by itself."""
    of_part: dict[KeyPath, list[str]] = {}
    for words, where, _, _ in lacks:
        of_part.setdefault(where[:2] if where[0] == "configuration" else where[:1], []).append(words)
    if len(of_part) > 1:
        return f"Not recorded: {'; '.join(map(listed, of_part.values()))}."
    return f"{capital(listed(words for words, _, _, _ in lacks))} {'is' if len(lacks) == 1 else 'are'} not recorded."


def _lacks(case: Case) -> Iterator[Lack]:
    if not case.client.name:
        yield "the client's name", ("client", "name"), "client.name", None
    if not case.client.born_on:
        yield "the date of birth", ("client", "born_on"), "client.born_on", None
    evaluators = [(i, person) for i, person in enumerate(case.people) if person.role == "evaluator"]
    if not evaluators:
        yield "the evaluator", ("people",), "", NewEntry("people", ("name",), (("role", '"evaluator"'),))
    elif not any(person.name for _, person in evaluators):
        yield "the evaluator's name", ("people", evaluators[0][0]), "name", None
    if not case.tried and not case.trial.none_why and not caregiver_drives(case):
        # who has named methods has tried them, and is not asked why nothing could be tried
        tried = bool(case.trial.methods)
        yield (
            ("a row of the trial", _ROWS, "", None)
            if tried
            else ("a trial with its rows, or why none was possible", ("trial", "none_why"), "trial.none_why", None)
        )
    items = case.configuration.items
    if not any(item.code or item.no_code for item in items):
        if items:
            yield "a code of a line, or that it has none", ("configuration", "items", 0), "code", None
        else:
            yield "a line of the order", ("configuration", "items"), "", NewEntry("configuration.items", ("code",))
    yield from _stops(case)


def _stops(case: Case) -> Iterator[Lack]:
    stop = case.configuration.stop
    for name, words in (("driver", "how the driver stops it"), ("power_off", "where the power switch is")):
        if not getattr(stop, name):
            yield words, (*_STOP, name), f"configuration.stop.{name}", None
    # told a moment ago, where nobody is asked between the two who reaches another switch
    told_last = "power_off" if not stop.power_off and (stop.stop_switch_by or not stop.stop_switch) else ""
    for name, words in _BY.items():
        # a power switch is on every chair: who reaches it is asked for with its place
        if (getattr(stop, name) or name == "power_off") and not getattr(stop, f"{name}_by"):
            yield (
                f"who reaches {'it' if name == told_last else words}",
                (*_STOP, f"{name}_by"),
                f"configuration.stop.{name}_by",
                None,
            )
