"""Training is planned: when, how often, how long, where, by whom, from which stage.

Asks: Whether the record holds a training plan with its first day, dose, place, coach and start stage.
Why a payer asks: A control that nobody teaches is not used.
What settles it: The keys of [training].
Source: supplier standard 42 CFR 424.57(c)(12) (instruction in safe use); the rest common practice, no source.
"""

from __future__ import annotations

from docgen.case.training import Lesson
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day, listed

HEADING = "independence"
CLAIM = "Training is planned"
SHOWN_IN = (
    "letter: Training and Follow-Up Plan",
    "plan: Training Levels",
)
SETTINGS = {"keys": ["start_on", "sessions_a_week", "minutes", "place", "coach", "stage"]}
CHOICES = {"keys": tuple(Lesson.model_fields)}


def answer(grounds: Grounds, keys: list[str]) -> Answer:
    training = grounds.case.training
    fields = type(training).model_fields
    missing = [key for key in keys if getattr(training, key) is None]
    if missing:
        return cannot_tell(
            f"Not recorded: {listed(fields[key].description or key for key in missing)}.",
            ("training",),
            mend=fill_in(dict.fromkeys(missing, ""), " under [training]"),
        )
    return met(
        f"Training is planned from {day(recorded(training.start_on))}, {training.sessions_a_week} times a week.",
        ("training",),
    )
