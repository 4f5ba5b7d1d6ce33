"""A caregiver who drives instead of the client: when that is what the case says, and whether the record bears it
out."""

from __future__ import annotations

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

ATTENDANT: KeyPath = ("attendant",)
_WORDS = {
    "by": "who drives",
    "client_cannot": "why the client cannot drive with any control",
    "cannot_push": "why this caregiver cannot push a manual chair",
    "drives_safely": "how this caregiver drove in the trial",
    "willing": "whether this caregiver is there, willing and able",
}
_SENTENCE = "<one sentence>"
_FORMS = {"by": "<id of a person>", "willing": "<true or false>"}


def caregiver_drives(case: Case) -> bool:
    """Whether the case says that a caregiver drives and names no control for the client."""
    return case.attendant.drives is True and case.configuration.method is None


def caregiver_can_drive(case: Case) -> Answer:
    """Whether the four facts are there: the client cannot, the caregiver cannot push, drives safely, is there and
    willing."""
    attendant = case.attendant
    if attendant.willing is False:
        return not_met(
            "The caregiver who is to drive is not there, not willing or not able.",
            (*ATTENDANT, "willing"),
            mend="Find a caregiver who is there, willing and able, or another answer.",
        )
    missing = [key for key in _WORDS if getattr(attendant, key) is None]
    if missing:
        return cannot_tell(
            f"Not recorded: {listed(_WORDS[key] for key in missing)}.",
            *((*ATTENDANT, key) for key in missing),
            mend=fill_in({f"attendant.{key}": _FORMS.get(key, _SENTENCE) for key in missing}),
        )
    person = recorded(case.person(attendant.by))
    who = f"the {person.relation}" if person.relation else person.name or "the caregiver"
    return met(f"The client cannot drive; {who} cannot push, and drove safely in the trial, as recorded.", ATTENDANT)
