"""Where the questions of conditions are answered, in words."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, cannot_tell
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import listed
from docgen.fit.condition import Condition, Question, answer_to, lacking


def where_to_answer(left: Sequence[tuple[Condition, Question]]) -> str:
    """What to write to answer these questions, condition by condition; a question that is not answered in words is
    told with the key that holds its answer."""
    of_condition: dict[str, dict[str, None]] = {}
    for condition, question in left:
        holds = "day; says, where only its month or year is known" if question.form == "day" else question.key
        name = question.id + (f" ({holds})" if question.key != "says" else "")
        of_condition.setdefault(condition.id, {})[name] = None
    below = "; ".join(f"in [[conditions.answers]] of {name}: {listed(ids)}" for name, ids in of_condition.items())
    return f"Answer, each in says or the key named, with by and on, {below}."


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
