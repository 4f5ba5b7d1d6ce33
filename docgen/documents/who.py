"""Who the client is, as every document says it: name, age, pronouns, course."""

from __future__ import annotations

from typing import Any

from docgen.case.awaited import ADULT_AGE, is_adult
from docgen.case.model import Case
from docgen.case.nobody.birth import YearOnly
from docgen.case.privacy import Privacy
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words
from docgen.months import whole_years

MADE_FROM = {
    "who": made_from(
        called=("client.called", "client.name"),
        age="client.born_on",
        child=Privacy.NAME,  # no more than whoever meets the client sees
        adult=Privacy.NAME,
        subject="client.pronouns",
        object="client.pronouns",
        possessive="client.pronouns",
        has="client.pronouns",
        course="diagnoses.course",
        progressive="diagnoses.course",
    ),
}

_COURSES = ("fast_progressive", "slow_progressive", "recovering", "stable")  # what decides first when diagnoses differ


def who(case: Case, words: Words) -> dict[str, Any]:
    """The client as sentences name them: called, age on the day of the request, pronouns, course of the diagnoses."""
    client, born = case.client, case.client.born_on
    called = client.called or client.name
    pronoun = words["pronoun"].get(client.pronouns, {})
    at = case.dates.written_on or case.request.requested_on
    age = whole_years(born, at) if born and at else None
    courses = {diagnosis.course for diagnosis in case.diagnoses}
    course = next((known for known in _COURSES if known in courses), None)
    return {
        "called": called,
        "age": words["deidentified"]["age"] if isinstance(born, YearOnly) and born.oldest and at else age,
        "child": age is not None and age < ADULT_AGE,
        "adult": (age is not None and age >= ADULT_AGE) or is_adult(case),
        "subject": pronoun.get("subject", called),
        "object": pronoun.get("object", called),
        "possessive": pronoun.get("possessive", f"{called}\u2019s" if called else None),
        "course": course or "",
        "progressive": course in ("fast_progressive", "slow_progressive"),
        "has": pronoun.get("has", words["pronoun"]["she"]["has"]),
        "_labels": {
            "called": "client's name",
            "age": "day of the request or the letter, by which the age is told" if born else "client's age",
            "subject": "client's name",
            "object": "client's name",
            "possessive": "client's name",
        },
    }
