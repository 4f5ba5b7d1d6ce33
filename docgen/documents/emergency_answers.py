"""What a helper must know of the chair or the person, as answered to the questions of a condition: on the
emergency page and on the card for daily use."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from docgen.case.emergency import ConditionAnswer
from docgen.case.model import Case
from docgen.documents.made_from import made_from
from docgen.documents.measures import Words
from docgen.fit.condition import Question, answer_to
from docgen.fit.condition_asked import asked_of

MADE_FROM = {
    "emergency_answers": made_from("conditions.answers"),
    "daily_answers": made_from("conditions.answers"),
}

_FULLY_UP = ("autonomic_dysreflexia", "fully_up")  # condition and question: how it is seen that the seat is up
_SIGNALS = ("no_speech", "signals")  # condition and question: how yes, no and pain are given without a voice


class AnswerInWords(TypedDict):
    """What a helper must know of the chair or the person, as answered to a condition's question.

    signals  it says how yes and no are given without a voice
    calls    it calls the emergency number, and stands in a line of its own
    ends_up  it says when the seat is fully up, and stands at the step that brings it there
    """

    name: str
    says: str | None
    signals: bool
    calls: bool
    ends_up: bool
    _labels: dict[str, str]


def answers_on_page(case: Case, words: Words) -> Iterator[AnswerInWords]:
    """Answers in words that whoever helps must know; None where one is still awaited."""
    for condition, question in asked_of(case):
        given = answer_to(case, condition.id, question.id)
        if question.on_page and question.form == "words" and (given or question.holds):
            yield _answer_in_words(case, condition.id, question, given, words)


def answers_on_card(case: Case, words: Words) -> Iterator[AnswerInWords]:
    """Answers in words that belong on the card for daily use; None where one is still awaited."""
    for condition, question in asked_of(case):
        if question.on_card:
            given = answer_to(case, condition.id, question.id)
            yield _answer_in_words(case, condition.id, question, given, words)


def _answer_in_words(
    case: Case, condition_id: str, question: Question, given: ConditionAnswer | None, words: Words
) -> AnswerInWords:
    at, label = (condition_id, question.id), label_on_page(condition_id, question, words)
    number, says = case.client.emergency_number, given.says if given else None
    calls = bool(number and says and number in says)
    return {
        "name": label,
        "says": says,
        "signals": at == _SIGNALS,
        "calls": calls,
        "ends_up": at == _FULLY_UP,
        "_labels": {"says": label},
    }


def label_on_page(condition_id: str, question: Question, words: Words) -> str:
    """What the answer to a question is called on these pages, in their language."""
    translated = words.get("emergency_labels", {}).get(f"{condition_id}.{question.id}")
    words_on_page = question.on_page or question.on_card
    return translated or str(words.get("original", "{text}")).replace("{text}", words_on_page)
