"""The case tells only what the need for this control rests on.

Asks: Whether a diagnosis, or a sentence that the letter prints, is of a kind on which the need for a control seldom
    rests: skin disease, use of drugs or alcohol, pregnancy, infections passed on by sex or blood.
Why a payer asks: A disclosure is held to what its purpose needs, and papers unrelated to the order are to be taken out
    before it is sent.
What settles it: Taking the entry out; or, where the need does rest on it, saying so by naming the diagnosis in
    client.function or in a finding.
Source: 45 CFR 164.502(b)(1) (passage read); Program Integrity Manual 5.11.2 (read). Which codes and words seldom bear
    is our reading.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, NewEntry
from docgen.criteria.sentences import counted, listed

HEADING = "privacy"
CLAIM = "Only the minimum necessary is disclosed"
SETTINGS = {
    # pressure injuries (L89) and their like are left in: they call for power seating
    "codes": ["A5", "A60", "A63", "A64", "B20", "F1", "L0", "L1", "L2", "L3", "L4", "L5", "L6", "L7", "O", "Z72"],
    # how such words begin
    "words": [
        "dermatolog",
        "dermatit",
        "eczema",
        "psoria",
        "substance use",
        "substance abuse",
        "drug use",
        "drug abuse",
        "opioid",
        "alcohol",
        "addict",
        "pregnan",
    ],
}


def answer(grounds: Grounds, codes: list[str], words: list[str]) -> Answer:
    case = grounds.case
    if not case.diagnoses and case.client.function is None:
        return cannot_tell(
            "Neither a diagnosis nor what the client's body can do is recorded.",
            ("diagnoses",),
            ("client", "function"),
            mend=Mend(
                "Fill in client.function <in the therapist's words>, and add [[diagnoses]] with code and name.",
                fill=("client.function",),
                add=(NewEntry("diagnoses", ("code", "name")),),
            ),
        )
    named = [
        ("diagnoses", i)
        for i, entry in enumerate(case.diagnoses)
        if entry.code and entry.code.startswith(tuple(codes)) and not _bears(case, entry.name)
    ]
    spoken = re.compile(rf"\b(?:{'|'.join(map(re.escape, words))})", re.IGNORECASE)
    sentences = [at for at, text in _texts(case) if spoken.search(text)]
    if not named and not sentences:
        return met(
            "No diagnosis and no sentence for the letter is of a kind on which the need seldom rests.",
            ("diagnoses",),
            ("client", "function"),
        )
    # the reason stands on pages too, so it says where and not what
    counts = [counted(len(named), "diagnosis", "diagnoses")] * bool(named) + [
        counted(len(sentences), "sentence", "sentences")
    ] * bool(sentences)
    return not_met(
        f"{listed(counts)} of a kind on which the need for a control seldom rests.",
        *named,
        *sentences,
        mend=(
            "Take out what the need does not rest on; where it does, name the diagnosis in client.function or in "
            "a finding."
        ),
    )


def _bears(case: Case, name: str) -> bool:
    """Whether the record says that the need rests on a diagnosis: its name stands in what the body can do, or in a
    finding."""
    sentences = " ".join([case.client.function or "", *(finding.says for finding in case.findings)])
    return name.lower() in sentences.lower()


def _texts(case: Case) -> Iterator[tuple[KeyPath, str]]:
    """Sentences of the case that the letter prints as they stand."""
    for key in ("lives", "function", "day", "willing"):
        if text := getattr(case.client, key):
            yield ("client", key), text
    for table in ("limits", "findings", "activities"):
        for index, entry in enumerate(getattr(case, table)):
            if entry.says:
                yield (table, index, "says"), entry.says
