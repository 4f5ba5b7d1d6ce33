"""A switch on which a step of the emergency page hangs is in the switch tests.

Asks: Whether each switch that a step of the emergency page moves the seat with is recorded where the tests take it
    from: then the fitting tries it with driving shut off and with each stop pressed, and the card each day.
Why a payer asks: A payer does not. A seat switch that is dead on the day it is needed leaves the person lying back.
What settles it: seat_switch under [sitting], in the words of the step; the parts of [configuration.stop].
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.conditions import undiagnosed
from docgen.criteria.criterion import Answer, Grounds, does_not_apply, met, not_met
from docgen.criteria.means import names_of

HEADING = "safety"
CLAIM = "The switch that an emergency step moves the seat with is tested"
DANGER = True
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.emergency.steps and not case.diagnoses:
        return undiagnosed("whether an emergency page is needed")
    named = [
        (at, name)
        for at, step in enumerate(case.emergency.steps)
        if step.moves in ("upright", "back")
        for name in names_of(f"{step.says or ''} {step.with_help or ''}")
    ]
    if not named:
        return does_not_apply("No step of the emergency page moves the seat with a switch.", ("emergency", "steps"))
    tested = _tested(case)
    for at, name in named:
        if name not in tested:
            return not_met(
                f"Step {at + 1} moves the seat with the {name}, which no test tries.",
                ("emergency", "steps", at),
                ("sitting", "seat_switch"),
                mend=f"Record the {name} and its place as seat_switch under [sitting].",
            )
    return met(
        "Each switch that a step of the emergency page moves the seat with is in the tests.", ("sitting", "seat_switch")
    )


def _tested(case: Case) -> str:
    """Every part that the order's switch tests name, in lower case."""
    parts = [value for value in vars(case.configuration.stop).values() if isinstance(value, str)]
    return " ".join((*parts, case.sitting.seat_switch or "")).lower()
