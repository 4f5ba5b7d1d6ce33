"""What is called reliable was counted so.

Asks: Whether the therapist's own words call the driving or a task reliable where the record's own mark for it, so many
    tries of each task without help and so many stops in a row, is not reached; the mark itself is no claim.
Why a payer asks: A letter that says what reliable means, and calls three stops of three reliable, refutes itself.
What settles it: The sentence with what was counted in the place of the word.
Source: article A55426 and US Program Integrity Manual 5.9: what a letter claims is in the record.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import k_of_n, listed, statements_of
from docgen.evidence.fact import Fact
from docgen.evidence.rows_of_five import FULL, THREE_TO_MOVE
from docgen.evidence.stops_in_a_row import IN_A_ROW

HEADING = "record"
CLAIM = "What is called reliable was counted so"
SHOWN_IN = ("letter: Training and Follow-Up Plan", "letter: Safety and Home Environment")
SETTINGS: dict[str, object] = {}

_TRIES = 3 * FULL
_RELIABLE = re.compile(r"\b(reliabl[ey]|every time|never fails?|without fail)\b", re.IGNORECASE)
_LATER = re.compile(r"\b(until|once|when|not|before|will|should|is to|to be|if)\b", re.IGNORECASE)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    method = case.configuration.method
    stops = grounds.evidence.of("stop_request", method)
    claims = [*_claims(case)]
    if not claims and case.training.stage_why is None and stops is None:
        return cannot_tell(
            "Neither why training begins where it does nor a stop on command is recorded.",
            ("training", "stage_why"),
            mend=fill_in({"training.stage_why": "<what was counted in the trial>"}),
        )
    if not claims:
        return does_not_apply("Nothing is called reliable.", ("letter",))
    if stops is None or grounds.evidence.of("success", method) is None:
        return cannot_tell(
            "Something is called reliable, and no attempts and stops with the requested control are recorded.",
            claims[0][0],
            ("trial", "rows"),
            mend="Add the rows of the trial, or write what was seen.",
        )
    lacking = [*_lacking(grounds, method, stops)]
    if not lacking:
        return met("What is called reliable was counted so in the trial.", *(at for at, _ in claims))
    at, sentence = claims[0]
    return not_met(
        f"The record says “{sentence}”. Reliable means at least {THREE_TO_MOVE} of {_TRIES} tries of each task without "
        f"help and {IN_A_ROW} stops in a row, and the trial has {listed(lacking)}.",
        at,
        ("trial", "rows"),
        facts=(stops.id,),
        mend="Write what was counted in the place of the word.",
        bare="Something is called reliable that the trial does not show to be so.",
    )


def _claims(case: Case) -> Iterator[tuple[KeyPath, str]]:
    """Sentences of the therapist that call something reliable now, and where they stand."""
    texts: list[tuple[KeyPath, str | None]] = [(("training", "stage_why"), case.training.stage_why)]
    texts += [(("letter", name), getattr(case.letter, name)) for name in type(case.letter).model_fields]
    for at, text in texts:
        for sentence in statements_of(text):
            if _RELIABLE.search(sentence) and not _LATER.search(sentence):
                yield at, sentence.rstrip(".; ")


def _lacking(grounds: Grounds, method: str | None, stops: Fact) -> Iterator[str]:
    """What the trial has less of than the mark asks for, in words."""
    tasks = grounds.case.trial.driving_tasks
    for task in tasks:
        fact = grounds.evidence.of("success", method, task.id)
        if fact is not None and (fact.n < _TRIES or recorded(fact.k) < THREE_TO_MOVE):
            yield f"{k_of_n(fact)} of the task {task.name}"
            break
    since = grounds.evidence.of("stops_since", method)
    missed = recorded(stops.k) < stops.n
    in_a_row = int(recorded(since.k)) if missed and since else 0 if missed else stops.n
    if in_a_row < IN_A_ROW:
        yield f"{in_a_row} stops on the days after a missed one" if missed else f"{k_of_n(stops)} stops"
