"""What the conditions of a person ask, and whether each question has its answer."""

from __future__ import annotations

import re
from typing import Any

from docgen.case.emergency import ConditionAnswer
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.fit.condition import Condition, Question, answer_to, first_open, to_ask

_YEAR = re.compile(r"\b(19|20)[0-9]{2}\b")
# The end of a sentence that says a part of what is asked is open: such an answer settles nothing.
_LEFT_OPEN = re.compile(
    r"\b(?:not (?:yet )?(?:recorded|known|noted|documented|asked|told|clear|decided|settled)|unknown|unclear)"
    r"(?: yet| so far)?\W*(?:[.;!?]|$)",
    re.I,
)
OPEN_PART = "what it says is not known yet"


def asked_of(case: Case) -> list[tuple[Condition, Question]]:
    """Every question that the conditions of a person raise, each with its condition."""
    asked = {feature.id.partition(".")[0] for feature in case.configuration.features}
    still_seat = (base := hcpcs.base(case.configuration.chair.base_code)) is not None and base.options == "none"
    return [(condition, condition.first) for condition in first_open(case).values() if condition.first] + [
        (condition, question)
        for condition in to_ask(case).values()
        for question in condition.asks
        if not (question.powered_seat and still_seat) and (not question.where or asked.intersection(question.where))
    ]


def is_answered(case: Case, condition: Condition, question: Question) -> bool:
    """Whether a question has its answer, in its form and with who gave it and when, or another key answers it."""
    if question.answered_by and _is_recorded(case, question.answered_by):
        return True
    return lacking(answer_to(case, condition.id, question.id), question) == ()


def lacking(answer: ConditionAnswer | None, question: Question) -> tuple[str, ...] | None:
    """The keys, or the part of its words, that an answer still needs; None where nothing is answered.

    A day that is past and of which no more is known may stand in words, with its year. An answer in words that says
    of a part that it is not recorded or known lacks that part.
    """
    if answer is None:
        return None
    key = question.key
    in_words = question.form == "day" and answer.says is not None and _YEAR.search(answer.says)
    is_there = in_words or getattr(answer, key) not in (None, ())
    lacks = [name for name, is_known in ((key, is_there), ("by", answer.by), ("on", answer.on)) if not is_known]
    if (key == "says" or in_words) and answer.says and _LEFT_OPEN.search(answer.says):
        lacks.append(OPEN_PART)
    return tuple(lacks)


def _is_recorded(case: Case, path: str) -> bool:
    """Whether a dotted key of a case holds something, of a list that of any entry."""
    values: list[Any] = [case]
    for name in path.split("."):
        values = [inner for value in values for inner in _entries(getattr(value, name))]
    return bool(values)


def _entries(value: Any) -> tuple[Any, ...]:
    return value if isinstance(value, tuple) else () if value is None else (value,)
