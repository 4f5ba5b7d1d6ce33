"""What the conditions of a person ask of them, with the answers that no sheet for daily use prints."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from docgen.case.model import Case
from docgen.documents.made_from import made_from
from docgen.fit.condition import answer_to
from docgen.fit.condition_asked import asked_of

MADE_FROM = {"condition_answers": made_from("conditions.answers")}


class AskedTold(TypedDict):
    """A question of a condition and what was answered, as a sentence or more."""

    asks: str
    answer: str


def condition_answers(case: Case) -> Iterator[AskedTold]:
    """Each answer in words that neither the emergency page nor the card shows, once; of a condition with steps on the
    emergency page none, for what holds in an emergency stands there alone."""
    printed = set[str]()
    for condition, question in asked_of(case):
        given = answer_to(case, condition.id, question.id)
        elsewhere = condition.page or question.on_page or question.on_card or question.asks in printed
        if given is not None and given.says and question.form == "words" and not elsewhere:
            printed.add(question.asks)
            yield {"asks": question.asks, "answer": given.says}
