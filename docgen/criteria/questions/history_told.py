"""The record tells the condition and its history.

Asks: Whether each diagnosis has its name, its beginning and its course, and whether function and earlier means are
    described.
Why a payer asks: A need can only be judged against where it comes from and where it goes.
What settles it: name, since and course of each [[diagnoses]]; client.function; [[alternatives]].
Source: article A55426; Program Integrity Manual 5.9.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.lacking import lacking
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import counted, listed

HEADING = "people"
CLAIM = "The record tells the condition and its history"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.diagnoses:
        return cannot_tell(
            "No diagnosis is recorded.", ("diagnoses",), mend=add_entry("diagnoses", "code", "name", "since", "course")
        )
    if bare := lacking(case.diagnoses, ("since", "course")):
        words = {"since": "when it began", "course": "its course"}
        index, _, keys = bare[0]
        return cannot_tell(
            f"Not recorded of diagnosis {index + 1}: {listed(words[key] for key in keys)}.",
            *(("diagnoses", i) for i, _, _ in bare),
            mend=fill_in(dict.fromkeys(keys, ""), " in [[diagnoses]]"),
        )
    if case.client.function is None:
        return cannot_tell(
            "What the client's body can and cannot do is not recorded.",
            ("client", "function"),
            mend=fill_in({"client.function": "<in the therapist's words>"}),
        )
    if not case.alternatives:
        return cannot_tell(
            "What was used or tried before is not recorded.",
            ("alternatives",),
            mend=add_entry("alternatives", tail=", simplest first"),
        )
    return met(
        (
            f"{counted(len(case.diagnoses), 'diagnosis', 'diagnoses')}, function and "
            f"{counted(len(case.alternatives), 'other means', 'other means')} are described."
        ),
        ("diagnoses",),
        ("client", "function"),
        ("alternatives",),
    )
