"""The note of the encounter says what a reviewer looks for.

Asks: How the encounter was held, whether its note is signed, in the practitioner's own words, about mobility, with need
    at home kept apart, sent to the supplier, and which questions it answers.
Why a payer asks: The note, not the letter, is the proof; a form or an unsigned note is sent back.
What settles it: The keys of [encounter]; answers lists the questions the note answers. Not asked where only a control
    is ordered.
Source: 42 CFR 410.38(d)(2) and (3); L33789 documentation part; article A55426, signatures; none for accessories alone,
    Program Integrity Manual 5.11.2.
"""

from __future__ import annotations

from typing import get_args

from docgen.case.paper import Encounter, Question
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import control_alone
from docgen.criteria.sentences import listed

HEADING = "people"
CLAIM = "The encounter is documented"
SHOWN_IN = ("paper: the practitioner's encounter note",)
SETTINGS = {
    "keys": ["mode", "narrative", "mobility_was_reason", "separates_home_and_outside", "signed"],
    "questions": list(get_args(Question)),
}
CHOICES = {"keys": tuple(name for name in Encounter.model_fields if name != "by"), "questions": get_args(Question)}


_WORDS = {
    "mode": "how the encounter was held",
    "sent_on": "the day the note went to the supplier",
    "narrative": "whether the note is in the practitioner's own words",
    "mobility_was_reason": "whether mobility was a main reason for it",
    "separates_home_and_outside": "whether need at home is kept apart",
    "signed": "whether the note is signed",
    "answers": "the questions the note answers",
}
_WRONG = {
    "narrative": "The note of the encounter is a form, not the practitioner's own words",
    "mobility_was_reason": "The note does not show that mobility was a main reason for the encounter",
    "separates_home_and_outside": "The note does not keep need at home and need outside apart",
    "signed": "The note of the encounter is not signed",
}
_SEEN = {
    "mode": "how it was held",
    "sent_on": "when its note was sent",
    "narrative": "the practitioner's own words",
    "mobility_was_reason": "mobility as a main reason",
    "separates_home_and_outside": "need at home kept apart",
    "signed": "the signature",
    "answers": "the questions its note answers",
}
_YES = "true or false"
_FORMS = {"mode": '"in_person" or "telehealth"', "sent_on": "date", "answers": "list of questions"}


def answer(grounds: Grounds, keys: list[str], questions: list[str]) -> Answer:
    if control_alone(grounds.case):
        return does_not_apply(
            "Only a control for a chair already there is requested; no new encounter is needed for it.",
            ("request", "kind"),
        )
    encounter = grounds.case.encounter
    wrong = [key for key in keys if getattr(encounter, key) is False]
    if wrong:
        return not_met(
            f"{_WRONG[wrong[0]]}.",
            *(("encounter", key) for key in wrong),
            mend="Ask the practitioner for an addendum, signed and dated; a signature can be attested later.",
        )
    missing = [key for key in keys if getattr(encounter, key) in (None, ())]
    if missing:
        return cannot_tell(
            f"Not recorded: {listed(_WORDS[key] for key in missing)}.",
            *(("encounter", key) for key in missing),
            mend=fill_in({f"encounter.{key}": f"<{_FORMS.get(key, _YES)}>" for key in missing}),
        )
    unanswered = [question for question in questions if question not in encounter.answers] if "answers" in keys else []
    if unanswered:
        return cannot_tell(
            f"The note is not recorded as answering: {listed(question.replace('_', ' ') for question in unanswered)}.",
            ("encounter", "answers"),
            mend=f"Add to encounter.answers: {listed(unanswered)}.",
        )
    return met(
        f"Recorded of the encounter: {listed(_SEEN[key] for key in keys)}.", *(("encounter", key) for key in keys)
    )
