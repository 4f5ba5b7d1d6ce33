"""Roles that must differ are held by different people.

Asks: Whether one person is both the evaluator or the practitioner and the supplier, or the client and someone who
    judges the request, by name or by id.
Why a payer asks: An evaluation by the seller, or a review by the client, is no evidence.
What settles it: Another person in one of the two roles, or the right name where one was copied.
Source: L33789, types II to IV (3) and documentation part (no financial relationship between evaluator and
    supplier); that a client does not judge the own request is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.namesakes import name_words
from docgen.case.who import Person
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "Roles that must differ are held by different people"
SHOWN_IN = ("letter: Equipment Requested", "letter: Attestation and Signatures")
SETTINGS: dict[str, object] = {}
_APART = (
    ("evaluator", "supplier"),
    ("practitioner", "supplier"),
    ("evaluator", "payer"),
    ("practitioner", "payer"),
    ("supplier", "payer"),
)
_JUDGES = ("evaluator", "practitioner", "supplier", "payer")
_JUDGED = ("evaluator", "supplier")  # without their names nobody can tell

Placed = tuple[KeyPath, str, str]  # where a name stands, the role, the name


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if clash := next(_clashes(case), None):
        (first, role, name), (second, other, _) = clash
        return not_met(
            f"{name} is in the record as the {role} and as the {other}.",
            first,
            second,
            mend="Name the person who really holds each role; one person cannot hold both.",
            bare=f"One person is in the record as the {role} and as the {other}.",
        )
    if wrong := next(_by_id(case), None):
        where, does, person, index = wrong
        return not_met(
            f"{does} {person.called}, who is the {person.role}.",
            where,
            ("people", index, "role"),
            mend="Name who really did it.",
            bare=f"{does} the {person.role}.",
        )
    nameless = [role for role in _JUDGED if not any(person.name for person in case.with_role(role))]
    if nameless:
        return cannot_tell(
            f"The name of the {listed(nameless)} is not recorded.",
            *(("people", i) for i, person in enumerate(case.people) if person.role in nameless),
            ("people",),
            mend=fill_in({"name": "<name>"}, f" of the {listed(nameless)}"),
        )
    return met("Client, evaluator, practitioner, supplier and payer's reviewer are different people.", ("people",))


def _clashes(case: Case) -> Iterator[tuple[Placed, Placed]]:
    """Two roles that must differ and hold one name."""
    people: list[Placed] = [
        (("people", index, "name"), person.role, person.name)
        for index, person in enumerate(case.people)
        if person.name and person.role in _JUDGES
    ]
    if case.client.name:
        client: Placed = (("client", "name"), "client", case.client.name)
        yield from ((client, person) for person in people if name_words(person[2]) == name_words(case.client.name))
    for role, other in _APART:
        for first in (person for person in people if person[1] == role):
            for second in (person for person in people if person[1] == other):
                if name_words(first[2]) == name_words(second[2]):
                    yield first, second


def _by_id(case: Case) -> Iterator[tuple[KeyPath, str, Person, int]]:
    """A deed of one role that names a person of a role which must differ."""
    deeds: tuple[tuple[KeyPath, str, str | None, tuple[str, ...]], ...] = (
        (("encounter", "by"), "The encounter was held by", case.encounter.by, ("supplier", "payer")),
        (("order", "signed_by"), "The order is signed by", case.order.signed_by, ("supplier", "payer")),
        (("denial", "by"), "For the payer speaks", case.denial.by, ("evaluator", "practitioner", "supplier")),
    )
    for where, does, who, barred in deeds:
        for index, person in enumerate(case.people):
            if person.id == who and person.role in barred:
                yield where, does, person, index
