"""The client consented to each disclosure to the people around them.

Asks: Whether the client agreed that each caregiver, coach and helper at school is told; of the parents or the
    guardian of a child that is not asked, for they agree for the child.
Why a payer asks: Those around a client are told what they need, with the client's agreement.
What settles it: informed_on of each of these people; is_parent of a parent or the guardian of a child.
Source: 45 CFR 164.510(b), from memory.
"""

from __future__ import annotations

from typing import get_args

from docgen.case.awaited import ADULT_AGE
from docgen.case.model import Case
from docgen.case.who import Person, Role
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.growth import age_years
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import counted, listed

HEADING = "privacy"
CLAIM = "The client consented to each disclosure to those around them"
SETTINGS = {"roles": ["caregiver", "coach", "school"]}
CHOICES = {"roles": get_args(Role)}


def _is_own_parent(case: Case, person: Person) -> bool:
    """Whether it is a parent or guardian of a child, who agrees for the child and is not told by its leave."""
    age = age_years(case)
    return age is not None and age < ADULT_AGE and person.is_parent is True


def answer(grounds: Grounds, roles: list[str]) -> Answer:
    people = grounds.case.people
    informed = [(i, p) for i, p in enumerate(people) if p.role in roles]
    if not people:
        return cannot_tell("Nobody is recorded.", ("people",), mend=add_entry("people", "role", "informed_on"))
    informed = [(i, p) for i, p in informed if not _is_own_parent(grounds.case, p)]
    if not informed:
        return does_not_apply("Nobody is recorded who would be told.", ("people",))
    if bare := [(i, p) for i, p in informed if p.informed_on is None]:
        return cannot_tell(
            f"Not recorded: that the client agreed to tell {listed(p.called_by_relation for _, p in bare)}.",
            *(("people", i) for i, _ in bare),
            mend=fill_in({"informed_on": "<date the client agreed>"}),
            bare=f"Not recorded: that the client agreed to tell {counted(len(bare), 'person', 'people')}.",
        )
    return met(
        f"The client agreed to tell {listed(p.called_by_relation for _, p in informed)}.",
        *(("people", i, "informed_on") for i, _ in informed),
        bare=f"The client agreed to tell {counted(len(informed), 'person', 'people')}.",
    )
