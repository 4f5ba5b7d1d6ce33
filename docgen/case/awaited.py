"""What somebody has still to answer: a consent, a decision, an opinion that the request waits for."""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING, Literal

from docgen.case.base import Id, Part, Words, key, must
from docgen.case.lines import KeyPath, dotted
from docgen.case.names_that_say import KIN
from docgen.case.privacy import Privacy
from docgen.case.respondents import respondent_of, respondents
from docgen.months import whole_years

if TYPE_CHECKING:
    from docgen.case.model import Case

ADULT_AGE = 18
_RESIDENCE = re.compile(
    r"\b(?:group home|assisted living|supported living|nursing home|(?:care|nursing) facility|residence)\b",
    re.I,
)
_KIN = re.compile(rf"\b(?:{'|'.join(KIN)}|foster \w+)s?\b", re.I)


class Awaited(Part):
    """A question that is open or was, and who answers it. It holds the request until it is answered, unless it says
    that it does not."""

    id: Id = must(Privacy.OFFICE, "name of the question, your own, without spaces", "shunt")
    what: Words = must(
        Privacy.OFFICE,
        "what is still to be answered, in words that whoever answers may see",
        "whether a pad may sit beside the shunt",
    )
    asks: Words | None = key(
        Privacy.OFFICE,
        "the question as it is put to whoever answers, where what is no way to ask: to the client with you",
        "whether you want the pad there",
    )
    of: Literal["therapist", "supplier", "practitioner", "hospital", "client", "family", "school", "payer"] = must(
        Privacy.OFFICE, "who answers; hospital for any other hospital or clinic", "practitioner"
    )
    whom: Words | None = key(
        Privacy.OFFICE,
        "who knows the answer, by name or by what they are: a hospital or clinic, or somebody outside the case",
        "the neurosurgery clinic of Example Hospital",
    )
    asked_by: Literal["therapist", "payer"] | None = key(
        Privacy.OFFICE, "who asked; what the payer asks for is told in the letter with its answer", "payer"
    )
    asked_on: date | None = key(Privacy.OFFICE, "date it was asked", date(2026, 7, 15))
    holds: bool = key(Privacy.OFFICE, "whether the request waits for the answer", True, default=True)
    answer: Words | None = key(Privacy.OFFICE, "what was answered", "A pad may, 25 mm off the scar.")
    answered_on: date | None = key(Privacy.OFFICE, "date of the answer", date(2026, 9, 8))

    @property
    def asked(self) -> str:
        """Who answers, in a sentence: by name, else by what they are to the request."""
        return self.whom or f"the {self.of}"

    @property
    def what_and_who_knows(self) -> str:
        """What is open, with who knows it where the therapist has to ask them."""
        return f"{self.what} ({self.whom} knows)" if self.whom and self.of == "therapist" else self.what

    @property
    def is_open(self) -> bool:
        """Whether the answer, or the day on which it came, is not there yet."""
        return not (self.answer and self.answered_on)


_SAY_THEIR_OWN = ("practitioner", "supplier")  # roles that are asked for their own credential


def respondent_at(case: Case, path: KeyPath) -> str:
    """Id of who can answer for a key of this case: of an open question whoever it names; the family where nobody of a
    school is recorded, and for a client who does not answer alone; such a client for a family of whom nobody is."""
    of_entry = _respondent_of_entry(case, path[0], path[1], path[2:]) if len(path) > 1 else None
    return of_entry or _whoever_is_there(case, respondent_of(dotted(path)))


def _respondent_of_entry(case: Case, table: str | int, at: str | int, key_path: KeyPath) -> str | None:
    """Id of who answers for an entry of a list by what the entry says; None where it says nothing of it.

    at        place of the entry in the list
    key_path  the key within the entry
    """
    if not isinstance(at, int):
        return None
    if table == "awaited" and at < len(case.awaited):
        return case.awaited[at].of
    if table == "people" and key_path == ("credential",):
        role = case.people[at].role if at < len(case.people) else ""
        return role if role in _SAY_THEIR_OWN else None
    return _who_finds(case, at) if table == "limits" and key_path == ("found",) else None


def _whoever_is_there(case: Case, who: str) -> str:
    """Id of who is asked in place of a role that usually answers, where nobody of it is recorded or a client does not
    answer alone."""
    if who == "school" and not case.with_role("school"):
        who = "family"
    if who in ("client", "family"):
        is_own = who == "client" or (bool(case.people) and not case.with_role("caregiver"))
        return "client" if is_own and answers_alone(case) else "family"
    return who


def _who_finds(case: Case, at: int) -> str | None:
    """Id of who says whether a screening found something, where that is not who usually does: whether a seizure that
    was told of is over, no therapist says."""
    limit = case.limits[at] if at < len(case.limits) else None
    if limit is not None and limit.kind == "seizures" and limit.found is None and limit.says:
        return "practitioner"
    return None


def asked_as(case: Case) -> dict[str, str]:
    """Id of who can answer -> what they are called, where that is not their usual name: staff, where the client lives
    in a residence and nobody of a family is recorded."""
    lives = case.client.lives or ""
    near = " ".join([lives, *(person.relation or "" for person in case.people)])
    return {"family": respondents()["residence"].name} if _RESIDENCE.search(lives) and not _KIN.search(near) else {}


def is_adult(case: Case) -> bool:
    """Whether the client is known as an adult on the last day recorded; False where the age is not known."""
    days = (case.dates.written_on, case.request.requested_on, case.dates.evaluated_on, *(v.on for v in case.visits))
    born, last = case.client.born_on, max(filter(None, days), default=None)
    return born is not None and last is not None and whole_years(born, last) >= ADULT_AGE


def answers_alone(case: Case) -> bool:
    """Whether what is the client's to say is asked of the client: an adult on the last day recorded, and no deficit of
    cognition was found. Where the age is not known, whoever is near is asked too."""
    return is_adult(case) and not any(limit.kind == "cognition" and limit.found for limit in case.limits)
