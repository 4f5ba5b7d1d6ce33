"""The index of records: whose dated record each kind of claim in the letter rests on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from docgen.case.model import Case
from docgen.case.who import Role
from docgen.documents.phrase import Words

Entry = tuple[str | None, str, str | None, date | None]  # who wrote it, kind, what it is about, day


def record_index(case: Case, in_letter: frozenset[str], words: Words) -> Iterator[dict[str, Any]]:
    """A row for each author of the record, in order of their first day: who, which claims, on which days; a row for
    the claims of each day where these days are not the same, so that nobody reads a day beside another claim. `begins`
    and `ends` mark the first and the last of an author.

    in_letter  findings that the letter tells; the others are not listed
    words      patterns of the language: table `index`, one pattern a kind of claim
    """
    of_author: dict[str | None, list[Entry]] = {}
    for entry in _entries(case, in_letter):
        of_author.setdefault(entry[0], []).append(entry)
    for author, entries in sorted(of_author.items(), key=lambda row: min(entry[3] or date.max for entry in row[1])):
        person = case.person(author)
        apart = _apart(entries)
        for at, of_days in enumerate(apart):
            yield {
                "by": person.name if person else None,
                "what": tuple(_claims(of_days, words["index"], words["lists"]["and"])),
                "on": tuple(sorted({on for *_, on in of_days if on})),
                "undated": any(on is None for *_, on in of_days),
                "begins": at == 0,
                "ends": at == len(apart) - 1,
                "_labels": {"by": "who wrote an entry of the record"},
            }


def _apart(entries: list[Entry]) -> list[list[Entry]]:
    """The entries of an author by the days of their kinds, in order of the first; all together where kinds share some
    of their days and not all, or one has no day."""
    days_of: dict[str, set[date]] = {}
    for _, kind, _, on in entries:
        days_of.setdefault(kind, set()).update({on} if on else ())
    sets = list(dict.fromkeys(frozenset(days) for days in days_of.values()))
    if frozenset() in sets or sum(map(len, sets)) > len(frozenset[date]().union(*sets)):
        return [entries]
    return [[entry for entry in entries if days_of[entry[1]] == days] for days in sorted(sets, key=min)]


def _entries(case: Case, in_letter: frozenset[str]) -> Iterator[Entry]:
    """Every dated entry of the record: of the practitioner, the supplier, who wrote findings, and the evaluator."""
    yield from _of_practitioner(case)
    if case.dates.supplier_assessed_on:
        yield first(case, "supplier"), "specialist", None, case.dates.supplier_assessed_on
    yield from ((f.by, "findings", None, f.on) for f in case.findings if f.id in in_letter)
    yield from ((s.by, "screening", s.kind, s.on) for s in case.limits)
    yield from ((a.by, "activities", None, a.on) for a in case.activities)
    yield from ((a.by, "lesser", None, a.on) for a in case.alternatives)
    for s in case.spaces:
        if s.at_home:  # no assessment is claimed of what nobody is recorded to have measured
            yield s.by, "places" if s.by or s.on else "measures", s.name, s.on
    yield from ((_who_tried(case, on), "trial", None, on) for on in sorted({row.date for row in case.tried}))
    yield from ((p.id, "statement", None, p.statement_on) for p in case.with_role("evaluator") if p.statement_on)


def first(case: Case, role: Role) -> str | None:
    """Id of the first person with a role."""
    return next((person.id for person in case.with_role(role)), None)


def _who_tried(case: Case, on: date) -> str | None:
    """Id of who held the trial of a day: whoever made a visit then, the evaluator among several; the evaluator where no
    visit of a day is recorded at all, and None for a day whose visit names nobody."""
    evaluator = first(case, "evaluator")
    if not case.visits:
        return evaluator
    who = [visit.by for visit in case.visits if visit.on == on and visit.by]
    return evaluator if evaluator in who else next(iter(who), None)


def practitioners(case: Case) -> tuple[str | None, str | None]:
    """Ids of who held the encounter, and of who signed the order: the same, unless another is recorded."""
    practitioner = case.encounter.by or first(case, "practitioner")
    return practitioner, case.order.signed_by or practitioner


def _of_practitioner(case: Case) -> Iterator[Entry]:
    practitioner, signer = practitioners(case)
    if case.dates.encounter_on:
        # held face to face, or by whom, is said only where the record says so
        kind = "encounter" if case.encounter.mode else "encounter_unsaid"
        yield case.encounter.by, kind, None, case.dates.encounter_on
    if case.dates.accepted_on:
        yield practitioner, "acceptance", None, case.dates.accepted_on
    if case.dates.ordered_on:
        yield signer, "order", None, case.dates.ordered_on


def _claims(entries: list[Entry], patterns: Mapping[str, str], last: str) -> Iterator[str]:
    """Each kind of claim once, with what it is about where the kind says so."""
    of_kind: dict[str, list[str]] = {}
    for _, kind, what, _ in entries:
        of_kind.setdefault(kind, []).extend([what] if what else [])
    for kind, about in of_kind.items():
        once = list(dict.fromkeys(about))
        pattern = patterns.get(f"{kind}_one", patterns[kind]) if len(once) == 1 else patterns[kind]
        yield pattern.format(what=last.join(filter(None, [", ".join(once[:-1]), *once[-1:]])))
