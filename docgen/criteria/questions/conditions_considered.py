"""What else a condition changes in driving and training is thought of.

Asks: Each question of the files in docgen/conditions that holds nothing back, for every condition of the client.
Why a payer asks: A payer does not. It is what a condition changes in sessions, seat, places and reviews.
What settles it: [[conditions]] with id, and [[conditions.answers]] with ask, the answer in its form, by and on.
Source: each file names its own, with its mark; what is from memory or inference asks here, and prints nowhere.
"""

from __future__ import annotations

from docgen.criteria.conditions import begun, undiagnosed, where_to_answer
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.sentences import capital, counted, listed
from docgen.fit.condition_asked import asked_of, is_answered

HEADING = "safety"
CLAIM = "What a condition changes is considered"
SETTINGS: dict[str, object] = {}
_MOST_TOLD = 3


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    for at, entry in enumerate(case.conditions):
        if not entry.present and not entry.says:
            return not_met(
                f"{capital(entry.id.replace('_', ' '))} is said not to be there, without why.",
                ("conditions", at),
                mend="Write says, by and on beside present = false.",
                bare="A condition is said not to be there, without why.",
            )
    asked = [(condition, question) for condition, question in asked_of(case) if not question.holds]
    if not asked and not case.diagnoses:
        return undiagnosed("what it changes")
    if not asked:
        return does_not_apply("No condition that changes driving or training is recorded.", ("diagnoses",))
    left = [(c, q) for c, q in asked if not is_answered(case, c, q)]
    if left:
        quoted = "; ".join(f"{c.name}: “{q.asks}”" for c, q in left[:_MOST_TOLD])
        more = f"; and {counted(len(left) - _MOST_TOLD, 'other', 'others')}" if len(left) > _MOST_TOLD else ""
        return cannot_tell(
            f"Not yet answered: {quoted}{more}.{begun(case, left)}",
            ("conditions",),
            mend=where_to_answer(case, left),
            bare="What a condition changes is not yet answered.",
        )
    return met(
        f"{counted(len(asked), 'question', 'questions')} of {listed({c.name: None for c, _ in asked})} answered.",
        ("conditions",),
        bare="What the conditions change is answered.",
    )
