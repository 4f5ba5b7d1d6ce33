"""Who can have reviewed a packet, and when: a clinician named with a credential, who is neither the client nor the
supplier."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

from docgen.case.base import clean_text
from docgen.case.model import Case
from docgen.case.namesakes import letters_and_digits, name_words
from docgen.case.who import Person, Role
from docgen.errors import Problem, UserError
from docgen.rendering.fonts import glyph_name, missing_glyphs

FIRST_REVIEW = date(1990, 1, 1)  # no packet of this program is older than its author's working life
_MOST_CHARACTERS = 120
_NO_CLINICIAN = ("supplier", "caregiver", "coach", "school", "payer")


def check_day(on: date, today: date, option: str = "--on") -> None:
    """Refuse a day on which nobody can have reviewed it: before 1990, or later than tomorrow, which it may be
    elsewhere.

    Raises UserError.
    """
    last = today + timedelta(days=1)
    if not FIRST_REVIEW <= on <= last:
        raise UserError(
            [
                Problem(
                    option,
                    f"{on} cannot be the day of a review",
                    f"It lies between {FIRST_REVIEW} and tomorrow, {last}.",
                )
            ]
        )


def reviewer(by: str, case: Case) -> tuple[str, str]:
    """Name and credential as they will stand on every page, and a remark or "".

    by  "Name, credential"

    Raises UserError when that is no name and credential, or the name is that of someone who cannot have reviewed it.
    """
    try:
        by = clean_text(by or ",")
    except ValueError as failure:
        raise UserError([Problem("--by", str(failure))]) from None
    if missing := missing_glyphs(by):
        raise UserError([Problem("--by", f"holds {glyph_name(missing[0])}, which the page fonts cannot show")])
    name, comma, credential = (part.strip() for part in by.partition(","))
    if not (name and comma and credential) or len(by) > _MOST_CHARACTERS or "\n" in by:
        raise UserError(
            [Problem("--by", f"'{by[:60]}' is not a name and a credential", "Write it as 'Jo Example, OTR/L'.")]
        )
    namesakes = [person for person in case.people if person.name and _is(by, person.name)]
    role: Role | Literal["client"] | None = next(
        (person.role for person in namesakes if person.role in _NO_CLINICIAN), None
    )
    if any(own and _is(by, own) for own in (case.client.name, case.client.called, case.client.name_in_own_script)):
        role = "client"
    if role:
        raise UserError(
            [
                Problem(
                    "--by",
                    f"{name} is the {role} in this case",
                    "A packet is reviewed by a clinician, such as its evaluator.",
                )
            ]
        )
    if not namesakes:
        raise UserError(
            [
                Problem(
                    "--by",
                    f"{name} is not among the people of this case",
                    "Name everyone who takes part, the one who reviews too, under [[people]] with role and credential.",
                )
            ]
        )
    return by, _other_credential(name, credential, namesakes[0])


def _other_credential(name: str, credential: str, person: Person) -> str:
    known = person.credential
    return f"the case gives the credential of {name} as {known}" if known and known != credential else ""


def _is(by: str, name: str) -> bool:
    """Whether "Name, credential" is of this name; "Family name, first name" is too."""
    own = name_words(name)
    return own in (name_words(by), sorted(letters_and_digits(by)))
