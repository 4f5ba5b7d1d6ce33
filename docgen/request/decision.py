"""The payer's answer to a request -> keys of the case: authorization, answers to lines, a denial, what is asked for.

What is recorded already stays as it is and is told. The order, the calendar, the appeal and the cover read these keys.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from itertools import count
from typing import Any, Literal

from msgspec import Struct

from docgen.case.answers import Answered, Sheet
from docgen.case.keys import value_at
from docgen.case.lines import KeyPath, dotted
from docgen.case.mistakes import toml_of
from docgen.case.read import CaseFile
from docgen.errors import Problem, UserError, brief, did_you_mean

Outcome = Literal["affirmed", "partly", "not_affirmed", "more_information"]
OUTCOMES: dict[Outcome, str] = {
    "affirmed": "every line is authorized",
    "partly": "some lines are authorized, others denied",
    "not_affirmed": "the request is denied",
    "more_information": "nothing is decided before more is sent",
}
CHAIR = "chair"  # the base, which is no item


class Decision(Struct, frozen=True):
    """A payer's answer, in its own words.

    number    by which the payer keeps the authorization or the denial
    lines     id of an item, or `chair` -> what the payer says of that line
    reasons   for what is denied, one each
    deadline  last day for an appeal
    asks      what more is wanted, one each
    """

    outcome: Outcome
    on: date
    number: str = ""
    valid_from: date | None = None
    valid_until: date | None = None
    lines: Mapping[str, str] = {}
    reasons: tuple[str, ...] = ()
    deadline: date | None = None
    asks: tuple[str, ...] = ()


def outcome_named(word: str) -> Outcome:
    """The outcome of a word. Raises UserError for any other."""
    named = word.strip().lower().replace("-", "_").replace(" ", "_")
    for outcome in OUTCOMES:
        if named == outcome:
            return outcome
    raise UserError([Problem("--outcome", f"'{brief(word)}' is no outcome", did_you_mean(named, OUTCOMES))])


def decided(file: CaseFile, decision: Decision) -> Sheet:
    """The keys that a decision gives a value, and in sentences what stands in the case already and stays.

    Raises UserError for a line that is not on the order, and for a denial without its reason.
    """
    if unknown := [line for line in decision.lines if line not in lines_of(file)]:
        raise UserError(
            Problem("--line", f"'{brief(line)}' is no line of the order", did_you_mean(line, lines_of(file)))
            for line in unknown
        )
    if problems := [*_unfit(decision), *_earlier(file, decision)]:
        raise UserError(problems)
    answers: list[Answered] = []
    left: list[str] = []
    for path, value in _values(file, decision):
        if value_at(file.case, path) not in (None, ()):
            left.append(f"{dotted(path)} is recorded already, and stays as it is: {file.where(*path)}")
        else:
            answers.append(Answered(path, toml_of(value)))
    return Sheet("payer", "", tuple(answers), tuple(left))


def _unfit(decision: Decision) -> Iterator[Problem]:
    """What the outcome has no place for or cannot do without, and days that are out of order."""
    denied, open_yet = decision.outcome in ("partly", "not_affirmed"), decision.outcome == "more_information"
    authorized = decision.outcome in ("affirmed", "partly")
    if denied and not decision.reasons:
        what, do = "is missing: a denial is answered reason by reason", "Give each as the payer writes it."
        yield Problem("--reason", what, do)
    if open_yet and not decision.asks:
        yield Problem("--asks", "is missing: what more the payer asks for", "Give each as the payer writes it.")
    for option, is_given, has_place in (
        ("--reason", bool(decision.reasons), denied),
        ("--deadline", decision.deadline is not None, denied),
        ("--from", decision.valid_from is not None, authorized),
        ("--until", decision.valid_until is not None, authorized),
        ("--number", bool(decision.number), not open_yet),
    ):
        if is_given and not has_place:
            yield Problem(option, f"has no place where the outcome is {decision.outcome}", "Leave it out.")
    first = decision.valid_from or decision.on
    for option, last, least in (
        ("--until", decision.valid_until, first),
        ("--deadline", decision.deadline, decision.on),
    ):
        if last is not None and last < least:
            yield Problem(option, f"is {last}, before {least}", "Look both days up.")


def _earlier(file: CaseFile, decision: Decision) -> Iterator[Problem]:
    """A decision that the case holds already: two answers of a payer are never mixed."""
    if decision.outcome == "more_information":
        return
    if file.case.authorization.decision is not None:
        where = file.where("authorization", "decision")
        yield Problem(
            where, "a decision is recorded already", "Change [authorization] and [denial] by hand for a later one."
        )
    elif file.case.denial.denied_on is not None or file.case.denial.reasons:
        yield Problem(file.where("denial"), "a denial is recorded already", "Change [denial] by hand for a later one.")


def lines_of(file: CaseFile) -> tuple[str, ...]:
    """Names of the lines that a payer can answer about."""
    return (CHAIR, *(item.id for item in file.case.configuration.items))


def _values(file: CaseFile, decision: Decision) -> Iterator[tuple[KeyPath, Any]]:
    case, denied = file.case, decision.outcome in ("partly", "not_affirmed")
    if decision.outcome != "more_information":
        given = {
            "decision": decision.outcome,
            "decided_on": decision.on,
            "tracking": decision.number or None,
            "valid_from": decision.valid_from,
            "valid_until": decision.valid_until,
        }
        yield from ((("authorization", key), value) for key, value in given.items() if value is not None)
    items = [item.id for item in case.configuration.items]
    for line, words in decision.lines.items():
        at: KeyPath = ("configuration", "chair") if line == CHAIR else ("configuration", "items", items.index(line))
        yield (*at, "payer_says"), words
        yield (*at, "payer_said_on"), decision.on
    if denied:
        given = {"denied_on": decision.on, "reference": decision.number or None, "deadline_on": decision.deadline}
        yield from ((("denial", key), value) for key, value in given.items() if value is not None)
        for number, reason in enumerate(decision.reasons):
            yield ("denial", "reasons", number, "says"), reason
    taken = {entry.id for entry in case.awaited}
    free = (name for name in map("payer_{}".format, count(1)) if name not in taken)
    for number, (name, wanted) in enumerate(zip(free, decision.asks, strict=False), len(case.awaited)):
        entry = {"id": name, "what": wanted, "of": "therapist", "asked_by": "payer", "asked_on": decision.on}
        yield from ((("awaited", number, key), value) for key, value in entry.items())
