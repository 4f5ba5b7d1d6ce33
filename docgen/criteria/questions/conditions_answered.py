"""What a condition of the client must be asked is answered.

Asks: Each question of the files in docgen/conditions that holds a packet back, for every condition found by code,
    level, finding, screening, course or age, or named: answered, with who answered and when. A day to come must not
    have passed, and whoever trains is among those who are trained where that is asked.
Why a payer asks: A payer seldom does. Not asked is not "no", and a blank line reads as safe.
What settles it: [[conditions]] with id, and [[conditions.answers]] with ask, the answer in its form, by and on;
    present = false, with says, where only a code suggests the condition.
Source: each file names its own; common practice, no source, for holding the packet back.
"""

from __future__ import annotations

from datetime import date

from msgspec.structs import replace

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.conditions import begun, undiagnosed, where_to_answer
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.sentences import capital, counted, day, listed
from docgen.fit.condition import Condition, Question, answer_to
from docgen.fit.condition_asked import asked_of, is_answered

HEADING = "safety"
CLAIM = "The questions that a condition raises are answered"
DANGER = True
SETTINGS: dict[str, object] = {}
_MOST_TOLD = 4


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    holding = [(condition, question) for condition, question in asked_of(case) if question.holds]
    if not holding and not case.diagnoses:
        return undiagnosed("what must be asked")
    if not holding:
        return does_not_apply("No condition that holds a packet back is recorded.", ("diagnoses",))
    for condition, question in holding:
        if wrong := _passed(case, condition, question) or _untrained(case, condition, question):
            return wrong
    if left := [(c, q) for c, q in holding if not is_answered(case, c, q)]:
        return _unanswered(case, left)
    return met(
        f"{counted(len(holding), 'question', 'questions')} of {listed({c.name: None for c, _ in holding})} answered.",
        ("conditions",),
        bare="What the conditions must be asked is answered.",
    )


def _unanswered(case: Case, left: list[tuple[Condition, Question]]) -> Answer:
    quoted = "; ".join(f"{condition.name}: “{question.asks}”" for condition, question in left[:_MOST_TOLD])
    more = f"; and {counted(len(left) - _MOST_TOLD, 'other', 'others')}" if len(left) > _MOST_TOLD else ""
    lacks = begun(case, left)
    of_years = " A past day of which only the year is known may stand in says." if "lacks day" in lacks else ""
    answer = cannot_tell(
        f"Not yet answered: {quoted}{more}.{lacks}",
        ("conditions",),
        mend=where_to_answer(case, left) + of_years,
        danger=True,
        bare="What a condition must be asked is not yet answered.",
    )
    return replace(answer, names=tuple(dict.fromkeys(condition.name for condition, _ in left)))


def _passed(case: Case, condition: Condition, question: Question) -> Answer | None:
    """A day to come that lies before the day of the documents; None where it does not."""
    given, at = answer_to(case, condition.id, question.id), _on(case)
    if question.form != "day_to_come" or given is None or given.day is None or at is None or given.day >= at:
        return None
    return not_met(
        f"{capital(condition.name)}: {question.asks} {day(given.day)}, which has passed.",
        _where(case, condition, question),
        mend="Settle it before anything is sent, and write the next day.",
        bare="A day that a condition waits for has passed.",
    )


def _untrained(case: Case, condition: Condition, question: Question) -> Answer | None:
    """A coach who is not among those trained; None where there is none."""
    given = answer_to(case, condition.id, question.id)
    if not question.in_lessons or given is None or not given.who:
        return None
    training = case.training
    without = [who for who in (training.coach, training.substitute) if who and who not in given.who]
    if not without:
        return None
    return not_met(
        f"{capital(condition.name)}: sessions are planned with nobody trained there, by {listed(without)}.",
        ("training", "coach"),
        _where(case, condition, question),
        mend="Train them and add them to the answer, or name a trainer who is trained.",
        bare="Sessions are planned with nobody there who is trained for a condition.",
    )


def _on(case: Case) -> date | None:
    return case.dates.written_on or case.request.requested_on


def _where(case: Case, condition: Condition, question: Question) -> KeyPath:
    """Key path of an answer."""
    for at, entry in enumerate(case.conditions):
        for index, given in enumerate(entry.answers):
            if (entry.id, given.ask) == (condition.id, question.id):
                return ("conditions", at, "answers", index)
    return ("conditions",)
