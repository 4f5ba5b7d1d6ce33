"""Where the questions of conditions are answered, in words."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, cannot_tell
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import listed
from docgen.fit.condition import Condition, Question, answer_to, code_alone, conditions
from docgen.fit.condition_asked import lacking


def _doubtful(case: Case, left: Sequence[tuple[Condition, Question]]) -> dict[str, str]:
    """Code of a diagnosis that may stand for another cause -> the condition with whose denial it tells of nothing."""
    of_code: dict[str, str] = {}
    for code in dict.fromkeys(code_alone(case, condition) for condition, _ in left):
        denied = (condition.recognised.denied_with(code) for condition in conditions().values())
        if name := next(filter(None, denied), ""):
            of_code[code] = name
    return of_code


def where_to_answer(case: Case, left: Sequence[tuple[Condition, Question]]) -> str:
    """What to write to answer these questions, condition by condition; a question that is not answered in words is
    told with the key that holds its answer, and what it asks."""
    of_condition: dict[str, dict[str, None]] = {}
    first = [condition.id for condition, question in left if question == condition.first]
    asked_first = "".join(
        f"Write {name} = {{ present = true }} under [conditions], and the rest is asked then; or {{ present = false }} "
        "with says and by. "
        for name in first
    )
    for condition, question in left:
        if condition.id in first:
            continue
        holds = "day; says, where only its month or year is known" if question.form == "day" else question.key
        if question.form == "number" and answer_to(case, condition.id, question.id) is not None:
            holds = "number, besides what is said"
        name = question.id + (f" ({holds}: “{question.asks}”)" if question.key != "says" else "")
        of_condition.setdefault(condition.id, {})[name] = None
    denied = "".join(
        f"Only by code {code}? {name} = {{ present = false }} with says and by under [conditions] takes it away. "
        for code, name in _doubtful(case, left).items()
        if name not in first
    )
    if not of_condition:
        return asked_first.rstrip()
    below = "; ".join(f"in [[conditions.answers]] of {name}: {listed(ids)}" for name, ids in of_condition.items())
    return f"{asked_first}{denied}Answer, each in says or the key named, with by and on, {below}."


def begun(case: Case, left: Sequence[tuple[Condition, Question]]) -> str:
    """What the answers still lack that stand there already, as a sentence after others; empty where there is none."""
    lacks = {
        f"{condition.id}.{question.id} lacks {listed(missing)}": None
        for condition, question in left
        if (missing := lacking(answer_to(case, condition.id, question.id), question))
    }
    return f" Of what stands there, {listed(lacks)}." if lacks else ""


def undiagnosed(unknown: str) -> Answer:
    """The answer where a question hangs on a condition and no diagnosis is recorded; `unknown` is what is then not
    known."""
    return cannot_tell(
        f"No diagnosis is recorded, so {unknown} is not known.",
        ("diagnoses",),
        mend=add_entry("diagnoses", "code", "name"),
    )
