"""The evaluating therapist is named with credential, license, training and the date of the report.

Asks: Who evaluated, with which credential and license, and trained and experienced in what.
Why a payer asks: A specialty evaluation counts only from a licensed or certified professional with specific training
    and experience in wheelchair evaluations.
What settles it: A person with role = "evaluator", name, credential, license and experience, and dates.evaluated_on.
Source: L33789, types II to IV (3); article A52504.
"""

from __future__ import annotations

from docgen.case.who import Person
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import day, listed

HEADING = "people"
CLAIM = "The evaluator is named, licensed and experienced"
SHOWN_IN = (
    "letter: Attestation and Signatures",
    "letter: Equipment Requested",
)
SETTINGS = {"keys": ["name", "credential", "license", "experience"]}
_LETTERS = "<letters, such as OTR/L>"
CHOICES = {"keys": tuple(Person.model_fields)}


def answer(grounds: Grounds, keys: list[str]) -> Answer:
    places = [(i, p) for i, p in enumerate(grounds.case.people) if p.role == "evaluator"]
    if not places:
        return cannot_tell(
            "No evaluator is recorded.",
            ("people",),
            mend=add_entry("people", "name", "credential", "license", "experience", role="evaluator"),
        )
    index, person = places[0]
    in_words = person.credential_in_words
    missing = [key for key in keys if getattr(person, key) is None or (key == "credential" and in_words)]
    if missing:
        return cannot_tell(
            f"The evaluator's {listed(missing)} {'is' if len(missing) == 1 else 'are'} not recorded."
            + (f" “{person.credential}” does not tell the letters of the credential." if in_words else ""),
            ("people", index),
            mend=fill_in({key: _LETTERS if key == "credential" else "" for key in missing}, " of the evaluator"),
        )
    on = grounds.case.dates.evaluated_on
    if on is None:
        return cannot_tell(
            "The date of the evaluation report is not recorded.",
            ("dates",),
            mend=fill_in({"dates.evaluated_on": "<date>"}),
        )
    return met(
        f"{person.name}, {person.credential}, license {person.license}; report of {day(on)}.",
        ("people", index),
        ("dates", "evaluated_on"),
    )
