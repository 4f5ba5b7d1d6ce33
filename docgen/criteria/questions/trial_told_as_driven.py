"""What is told of days, settings and speeds of the trial is that of its attempts.

Asks: Whether a sentence that sets a control beside the requested one on "both its days" speaks of a day on which the
    requested one has no row; whether a setup that was changed on the way ("then", "twice") tells with which attempts it
    was so; whether the fastest speed of a control is one at which nothing was counted.
Why a payer asks: A comparison that no row bears, or a speed without a result, makes the rows beside it doubtful too.
What settles it: The sentence in limits of [trial] or reason of the alternative with the days that both were driven;
    setup with the attempts or days of each setting, or that this is not recorded; speed_m_s of the method as its
    attempts were driven.
Source: article A55426 and US Program Integrity Manual 5.9: what a letter claims is in the record; which words tell of
    days, settings and speeds is common use, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.tried import Method
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.sentences import day, listed, sentences_of
from docgen.months import MONTHS

HEADING = "record"
CLAIM = "Days, settings and speeds of the trial are told as its attempts were driven"
SHOWN_IN = ("letter: Equipment Trial and Results",)
SETTINGS: dict[str, object] = {}

_EACH_DAY = re.compile(r"\b(?:both|all|each) (?:of )?(?:its|their|these|the) days\b", re.IGNORECASE)
_CHANGED = re.compile(r"\b(?:then|twice|three times|later|afterwards|at first)\b", re.IGNORECASE)
_WHICH = re.compile(
    r"\battempts?\b|\bdays?\b|\bnot recorded\b|"
    rf"\b(?:{'|'.join(MONTHS)}) \d",
    re.IGNORECASE,
)
_UNCOUNTED = re.compile(r"\b(?:no attempt|not (?:an attempt|scored|counted)|nothing was (?:scored|counted))\b", re.I)
_SPEED = re.compile(r"(\d+(?:\.\d+)?) ?m/s")
_CLAUSES = re.compile(r"[;.](?=\s|$)|,? and (?=at )")
_Fault = tuple[KeyPath, str]


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.tried:
        return cannot_tell("No row of a trial is recorded.", ("trial", "rows"), mend="Add the rows of the trial.")
    if not case.trial.chair and not any(words for _, _, words in _of_a_control(case)) and not _setups(case):
        return does_not_apply("Nothing of days, settings or speeds is told in words.", ("trial", "limits"))
    faults = [*_days(case), *_settings(case), *_speeds(case)]
    if faults:
        return not_met(
            " ".join(says for _, says in faults),
            *(at for at, _ in faults),
            mend="Mend the words by the rows, or say that it is not recorded.",
        )
    return met("What is told of days, settings and speeds of the trial is that of its attempts.", ("trial", "methods"))


def _days(case: Case) -> Iterator[_Fault]:
    """Sentences that set a control beside the requested one on days on which that one has no row."""
    asked = case.requested_method
    if asked is None:
        return
    for at, method, sentence in _of_a_control(case):
        alone = _driven_on(case, method.id) - _driven_on(case, asked.id)
        if alone and _EACH_DAY.search(sentence) and _names(asked, sentence, beside=method):
            days = listed(day(on) for on in sorted(alone))
            yield at, f"The record says “{sentence.rstrip('. ')}”, and the requested control was not driven on {days}."


def _of_a_control(case: Case) -> Iterator[tuple[KeyPath, Method, str]]:
    """Each sentence on a control other than the requested one, its place and the control."""
    others = {m.id: m for m in case.trial.methods if m.id != case.configuration.method}
    for sentence in sentences_of(case.trial.limits):
        named = (m for m in others.values() if " ".join(m.name.split()[-2:]).casefold() in sentence.casefold())
        yield from ((("trial", "limits"), method, sentence) for method in named)
    for at, device in enumerate(case.alternatives):
        if method := others.get(device.method or ""):
            yield from ((("alternatives", at, "reason"), method, text) for text in sentences_of(device.reason))


def _names(asked: Method, sentence: str, beside: Method) -> bool:
    """Whether a sentence names the requested control, by a word that the other has not."""
    mine, other, words = ({*re.findall(r"[a-z]{4,}", text.casefold())} for text in (asked.name, beside.name, sentence))
    return "requested control" in sentence or bool((mine - other) & words)


def _driven_on(case: Case, method: str) -> set[date]:
    return {row.date for row in case.tried if row.method == method}


def _settings(case: Case) -> Iterator[_Fault]:
    """Setups that were changed on the way, and do not tell with which attempts."""
    for at, method, setup in _setups(case):
        if _CHANGED.search(setup) and not _WHICH.search(setup):
            yield (
                ("trial", "methods", at, "setup"),
                f"The {method.name} was set “{setup.rstrip('. ')}”, and with which attempts it was so is not told.",
            )


def _setups(case: Case) -> list[tuple[int, Method, str]]:
    """Each control with rows of which the setup is told: its place, the control and the words."""
    driven = {row.method for row in case.tried}
    return [(at, m, m.setup) for at, m in enumerate(case.trial.methods) if m.id in driven and m.setup]


def _speeds(case: Case) -> Iterator[_Fault]:
    """Fastest speeds of a control at which, by the words on the chair of the trial, nothing was counted."""
    clauses = [clause for clause in _CLAUSES.split(case.trial.chair or "") if _UNCOUNTED.search(clause)]
    uncounted = {float(speed) for clause in clauses for speed in _SPEED.findall(clause)}
    for at, method in enumerate(case.trial.methods):
        if method.speed_m_s in uncounted:
            yield (
                ("trial", "methods", at, "speed_m_s"),
                f"The fastest speed of the {method.name} is {method.speed_m_s:g} m/s, and nothing was counted at it.",
            )
