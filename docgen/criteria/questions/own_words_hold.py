"""The therapist's own words for the letter claim no safe driving that the record contradicts.

Asks: Whether a sentence of [letter] that calls the driving safe stands beside attempts, stops or distances that fail,
    or beside a task done in fewer than two of three attempts that the sentence does not name; whether one that has the
    client drive alone stands beside hands on the control on the last day of the trial.
Why a payer asks: A judgment that the rows of the same letter refute is read as no judgment at all.
What settles it: The sentence taken back, or the training, setup and rows that support it.
Source: article A55426 and US Program Integrity Manual 5.9: what a letter claims is in the record; two of
    three attempts are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.questions import driver_is_safe, stops_on_request, stops_within_space
from docgen.criteria.sentences import k_of_n
from docgen.evidence.fact import Fact

HEADING = "record"
CLAIM = "The letter calls no driving safe that the record contradicts"
SHOWN_IN = ("letter: Safety and Home Environment",)
DANGER = True
SETTINGS = {"least_share": 0.66, "least_attempts": 3}
_SAFE = re.compile(r"\b(safe|safely|reliabl[ey]|stops (each|every) time|always stops|no risk|without risk)\b", re.I)
_ALONE = re.compile(
    r"\bdriv(es?|ing)\b[^.]*\b(independent(ly)?|by (him|her|them)sel(f|ves)|without (any )?(help|assistance))\b", re.I
)
_DENIED = re.compile(r"\b(not|cannot|never|no longer|nobody|neither|unless|until|before)\b|n['’]t\b", re.I)
_ASKED = (driver_is_safe, stops_on_request, stops_within_space)


def answer(grounds: Grounds, least_share: float, least_attempts: int) -> Answer:
    judged = [question.answer(grounds, **question.SETTINGS) for question in _ASKED]
    claims = [*_claims(grounds.case)]
    refuted = _refuted_by(judged)
    if claims and refuted:
        where, sentence = claims[0]
        return not_met(
            f"The letter says “{sentence}”, and the record says: {refuted.reason}",
            where,
            *refuted.where,
            facts=refuted.facts,
            mend="Take the sentence back, or train, change the setup and repeat what failed.",
            bare="A sentence of the letter calls the driving safe, and the record does not.",
        )
    if claims and (failed_task := _failed_task(grounds, least_share, least_attempts)):
        unnamed = _does_not_name(claims, *failed_task)
        if unnamed is not None:
            return unnamed
    if (alone := next(_claims(grounds.case, _ALONE), None)) and (hands_on := _hands_on(grounds.case)):
        where, sentence = alone
        times = "once" if hands_on == 1 else f"{hands_on} times"
        return not_met(
            f"The letter says “{sentence}”, and on the last day of the trial someone put a hand on it {times}.",
            where,
            ("trial",),
            mend="Take the sentence back, or write who helps and how often.",
            bare="A sentence of the letter has the client drive alone, and the trial has help by hand.",
        )
    untold = next((judgment for judgment in judged if judgment.status == "cannot_tell"), None)
    if untold and not grounds.evidence.of("success", grounds.case.configuration.method):
        return cannot_tell(
            f"How the client drives is not recorded. {untold.reason}",
            *untold.where,
            mend=untold.mend or "Add the rows of the trial.",
        )
    if not claims:
        return does_not_apply("No sentence of the letter calls the driving safe.", ("letter",))
    return met("What the letter says of safe driving is not contradicted by the record.", *(at for at, _ in claims))


def _refuted_by(judged: list[Answer]) -> Answer | None:
    """The first answer of _ASKED that refutes a claim of safe driving; None where none does."""
    stops = judged[_ASKED.index(stops_on_request)]
    # a stop missed now and then is told where stops are asked about; here counts what someone could be hurt by
    return next((a for a in judged if a.status == "not_met" and (a.danger or a is not stops)), None)


def _does_not_name(claims: list[tuple[KeyPath, str]], task: str, fact: Fact) -> Answer | None:
    """Not met where a sentence calls the driving safe and does not name the task that went badly."""
    unnamed = [(at, words) for at, words in claims if task.casefold() not in words.casefold()]
    if not unnamed:
        return None
    where, sentence = unnamed[0]
    return not_met(
        f"The letter says “{sentence}”, and of the task {task}, {k_of_n(fact)} attempts were done.",
        where,
        ("trial", "tasks"),
        facts=(fact.id,),
        mend="Name the task and what holds there until it goes well, or train and repeat it.",
        bare="A sentence of the letter calls the driving safe, and a task of the trial went badly.",
    )


def _failed_task(grounds: Grounds, least_share: float, least_attempts: int) -> tuple[str, Fact] | None:
    """The task, no stop, that went worst with the control asked for, and its attempts; None where none went badly."""
    case = grounds.case
    tasks = [task for task in case.trial.tasks if task.shows != "stop"]
    facts = [(task.name, grounds.evidence.of("success", case.configuration.method, task.id)) for task in tasks]
    enough = [(name, fact) for name, fact in facts if fact and fact.n >= least_attempts]
    bad = [(name, fact) for name, fact in enough if (fact.value or 0) < least_share]
    return min(bad, key=lambda pair: pair[1].value or 0, default=None)


def _hands_on(case: Case) -> int:
    """How often a helper put a hand on the requested control on its last day of the trial, or took over."""
    rows = [row for row in case.tried if row.method == case.configuration.method]
    last = max((row.date for row in rows), default=None)
    return sum((row.prompts_physical or 0) + (row.took_over or 0) for row in rows if row.date == last)


def _claims(case: Case, claim: re.Pattern[str] = _SAFE) -> Iterator[tuple[KeyPath, str]]:
    """Sentences of the therapist's own that call something safe, or what else is claimed, and deny or limit nothing."""
    for name in type(case.letter).model_fields:
        for sentence in re.split(r"(?<=[.!?])\s+", getattr(case.letter, name) or ""):
            if claim.search(sentence) and not _DENIED.search(sentence):
                yield ("letter", name), sentence.rstrip(".")
