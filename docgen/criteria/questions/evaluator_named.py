"""The evaluating therapist is named with credential and license.

Asks: Who evaluated, and with which credential and license.
Why a payer asks: A specialty evaluation counts only from a licensed or certified professional.
What settles it: A person with role = "evaluator", name, credential and license.
Source: L33789, types II to IV (3); article A52504.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.sentences import listed

HEADING = "people"
CLAIM = "The evaluator is named and licensed"
SETTINGS = {"keys": ["name", "credential", "license"]}


def answer(grounds: Grounds, keys: list[str]) -> Answer:
    places = [(i, p) for i, p in enumerate(grounds.case.people) if p.role == "evaluator"]
    if not places:
        return cannot_tell("No evaluator is recorded.", ("people",), mend='Add [[people]] with role = "evaluator", name, credential and license.')
    index, person = places[0]
    missing = [key for key in keys if getattr(person, key) is None]
    if missing:
        return cannot_tell(f"The evaluator's {listed(missing)} {'is' if len(missing) == 1 else 'are'} not recorded.", ("people", index),
                           mend=f"Fill in {listed(missing)} of the evaluator.")
    return met(f"{person.name}, {person.credential}, license {person.license}.", ("people", index))
