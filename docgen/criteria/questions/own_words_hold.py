"""The therapist's own words for the letter claim no safe driving that the record contradicts.

Asks: Whether a sentence of [letter] that calls the driving safe stands beside attempts, stops or distances that fail,
    or beside a task done in fewer than two of three attempts that the sentence does not name; whether it covers a place
    that the chair must back out of, which was not tried, or one where a rule for now lets nobody drive; whether one
    that has the client drive alone stands beside hands on the control on the last day of the trial.
Why a payer asks: A judgment that the rows of the same letter refute is read as no judgment at all.
What settles it: The sentence taken back, or the training, setup and rows that support it.
Source: article A55426 and US Program Integrity Manual 5.9: what a letter claims is in the record; two of
    three attempts are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.need import Space
from docgen.case.supervision import Supervision
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.questions import driver_is_safe, stops_on_request, stops_within_space
from docgen.criteria.sentences import k_of_n, listed, sentences_of
from docgen.criteria.ways_out import BACKING, backing_tried, cannot_turn
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
# a rule that lets nobody drive, and words of a place that many places share: common use, no source
_NOBODY_DRIVES = re.compile(r"\bno driving\b|\bdo(?:es)? not (?:use|drive)\b|\bnobody drives\b", re.IGNORECASE)
_COMMON = {"home", "hour", "hours", "alone", "with", "there", "front", "door", "while", "from", "time"}
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
    if beyond := _beyond_what_was_tried(grounds.case, claims):
        return beyond
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


def _beyond_what_was_tried(case: Case, claims: Sequence[tuple[KeyPath, str]]) -> Answer | None:
    """Not met where driving is called safe in a place that the chair must back out of untried, or where for now
    nobody drives; None where the letter says so, or claims nothing there."""
    for where, sentence in claims:
        if closed := [(at, place) for at, place in enumerate(case.supervision) if _is_closed(case, place, sentence)]:
            at, place = closed[0]
            return not_met(
                f"The letter says “{sentence}”, and {place.place} for now: {(place.for_now or '').rstrip('. ')}.",
                where,
                ("supervision", at, "for_now"),
                mend="Take that place out of the sentence, or say when driving there begins.",
                bare="A sentence of the letter calls the driving safe in a place where for now nobody drives.",
            )
        if backing := _backs_out_untried(case, sentence):
            return not_met(
                f"The letter says “{sentence}”, and backing up was not tried, as the chair must do to leave these "
                f"places: {listed(space.name for _, space in backing)}.",
                where,
                *(("spaces", at) for at, _ in backing),
                ("trial", "limits"),
                mend="Say in the letter that the judgment leaves backing out aside, and what holds there until it is "
                "tried; or add a task of backing up with its rows.",
                bare="A sentence of the letter calls the driving safe, and backing out was not tried.",
            )
    return None


def _is_closed(case: Case, place: Supervision, sentence: str) -> bool:
    """Whether a rule for now lets nobody drive in a place that a sentence names by a word of its own."""
    if place.is_near is False or not _NOBODY_DRIVES.search(place.for_now or ""):
        return False
    names = [place.place, *(space.name for space in case.spaces if space.id in place.covers)]
    words = {word for name in names for word in re.findall(r"[a-z]{4,}", name.casefold())} - _COMMON
    return any(re.search(rf"\b{word}s?\b", sentence.casefold()) for word in words)


def _backs_out_untried(case: Case, sentence: str) -> list[tuple[int, Space]]:
    """Places at home, or named by the sentence, that are left backward, where no backing was tried and the letter says
    nothing of it; the same of a sentence that names other places and not these is no claim."""
    if not case.configuration.backs or backing_tried(case) or BACKING.search(case.letter.safety or ""):
        return []
    at_home = re.search(r"\b(?:home|house|apartment|everywhere)\b", sentence, re.IGNORECASE)
    placed = any(space.name.casefold() in sentence.casefold() for space in case.spaces)
    return [
        (at, space)
        for at, space in enumerate(case.spaces)
        if cannot_turn(case, space)
        and (space.name.casefold() in sentence.casefold() or (space.at_home and (at_home or not placed)))
    ]


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
    tasks = case.trial.driving_tasks
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
        for sentence in sentences_of(getattr(case.letter, name)):
            if claim.search(sentence) and not _DENIED.search(sentence):
                yield ("letter", name), sentence.rstrip(".")
