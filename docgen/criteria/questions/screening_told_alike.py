"""A screening that found nothing is contradicted by no other part of the record.

Asks: Whether a faculty whose screening found no limit is limited by a finding of the evaluation; whether seizures of
    which no limit was found are told of in the words of that screening, in a finding or as a condition.
Why a payer asks: The letter says in one place that nothing was found and in another what was. Seizures recorded as
    none leave out all that is asked of them, and the page for emergencies.
What settles it: found = true in that entry of [[limits]], or the finding mended; for seizures that are over,
    [[conditions]] of epilepsy with present = false, says, by and on.
Source: US national coverage determination 280.3, questions 2 and 3; which findings limit a faculty is common practice,
    no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import capital, listed, statements_of
from docgen.fit.condition import of_case, recorded
from docgen.fit.finding import finding_name

HEADING = "record"
CLAIM = "What a screening found agrees with the rest of the record"
SHOWN_IN = ("letter: Patient Information, Diagnosis and Functional Status",)
QUIET = True
SETTINGS: dict[str, object] = {}

_LIMITING = {
    "cognition": ("memory_poor", "sequence_hard", "cause_effect_emerging", "attention_short"),
    "judgment": ("judgment_limited", "impulsive"),
    "vision": ("vision_low", "field_cut", "visual_processing"),
    "hearing": ("hearing_low",),
}
_CONDITION = "epilepsy"
_TOLD = re.compile(r"\b(?:seizures?|convulsions?|fits|absences?|spells?|epilep\w+)\b", re.IGNORECASE)
_NONE = re.compile(r"\b(?:no|not|never|none|denies|denied|without|free of|nor|nothing)\b", re.IGNORECASE)
_LATER = re.compile(r"\b(?:none|no more|no further|not again|nothing) since\b.*", re.IGNORECASE)  # tells that some were


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.limits:
        return cannot_tell("No screening is recorded.", ("limits",), mend=add_entry("limits", "kind", "found", "says"))
    for at, reason in _seizures(case):
        return not_met(
            reason,
            at,
            mend=fill_in(
                {"found": "= true"},
                f", or, if whoever treats them says that they are over, write [[conditions]] of {_CONDITION} with "
                "present = false, says, by and on",
            ),
            danger=True,
            bare="Seizures are told of in the record, and no limit is recorded of them.",
        )
    findings = {finding.id: at for at, finding in enumerate(case.findings)}
    for at_limit, limit in enumerate(case.limits):
        against = [finding for finding in _LIMITING.get(limit.kind, ()) if finding in findings]
        if limit.found is False and against:
            return not_met(
                f"The screening of {limit.kind} found no limit, and a finding is {listed(map(finding_name, against))}.",
                ("limits", at_limit, "found"),
                *(("findings", findings[finding]) for finding in against),
                mend="Write found = true with what makes up for it, or mend the finding.",
                bare=f"The screening of {limit.kind} and a finding do not agree.",
            )
    kinds = listed(dict.fromkeys(limit.kind for limit in case.limits if limit.kind != "other"))
    return met(f"{capital(kinds or 'what was screened')}: no other part of the record says otherwise.", ("limits",))


def _seizures(case: Case) -> Iterator[tuple[KeyPath, str]]:
    """Where a screening of seizures found none and the record tells of some, with what it tells."""
    entry = recorded(case, _CONDITION)
    if entry is not None and not entry.present:
        return
    for at, limit in enumerate(case.limits):
        if limit.kind != "seizures" or limit.found is not False:
            continue
        path: KeyPath = ("limits", at, "found")
        if clause := _clause_that_tells(limit.says or ""):
            yield path, f"The screening of seizures says “{clause}”, and that nothing was found."
        elif _CONDITION in of_case(case):  # by a diagnosis, a finding or a word of the record
            yield path, "The screening of seizures found nothing, and another part of the record tells of them."


def _clause_that_tells(says: str) -> str:
    """The clause that tells of a seizure the person has had; "" where none does."""
    for clause in statements_of(says):
        if _TOLD.search(clause) and not _NONE.search(_LATER.sub("", clause)):
            return clause.rstrip(".; ")
    return ""
