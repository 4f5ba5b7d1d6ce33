"""A session can begin and go on under the stop rules of the training plan.

Asks: Whether fatigue or pain on the last day with the requested control would have ended a session by the rules of the
    plan.
Why a payer asks: A plan whose first session must stop is no plan; and driving on past fatigue or pain hurts.
What settles it: fatigue_before, fatigue_after, pain_before and pain_after in the rows of that day.
Source: common practice, no source: no session goes on with fatigue at 8 of 10 or pain over 4 of 10.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.sentences import day, listed
from docgen.evidence.stop_rules import MOST_FATIGUE, MOST_PAIN, ends_a_lesson

HEADING = "safety"
CLAIM = "Training can go on under its stopping criteria"
SHOWN_IN = ("letter: Training and Follow-Up Plan",)
SETTINGS: dict[str, object] = {}

_WHEN = {"before": "before the block", "after": "after it"}


def answer(grounds: Grounds) -> Answer:
    case, at = grounds.case, ("trial", "rows")
    rows = [row for row in case.tried if row.method == case.configuration.method]
    if not rows:
        return cannot_tell(
            "No row of the requested control is recorded.",
            at,
            mend="Add its rows with fatigue_before and fatigue_after.",
        )
    last = max(row.date for row in rows)
    read = {
        (kind, when): max(
            (value for row in rows if row.date == last and (value := getattr(row, f"{kind}_{when}")) is not None),
            default=None,
        )
        for kind in ("fatigue", "pain")
        for when in _WHEN
    }
    over = [
        f"{kind} {_WHEN[when]} was {value:g} of 10"
        for (kind, when), value in read.items()
        if value is not None and ends_a_lesson(kind, value)
    ]
    if over:
        return not_met(
            (
                f"On {day(last)} {listed(over)}, and the plan ends a session at fatigue {MOST_FATIGUE:g} or pain "
                f"over {MOST_PAIN:g}."
            ),
            at,
            mend="Plan sessions for another hour, make them shorter, or change the setup and try again.",
        )
    if read["fatigue", "before"] is None or read["fatigue", "after"] is None:
        return cannot_tell(
            f"Fatigue before and after the block of {day(last)} is not recorded.",
            at,
            mend="Add fatigue_before and fatigue_after to the rows of a block.",
        )
    return met(
        f"On {day(last)} fatigue went from {read['fatigue', 'before']:g} to {read['fatigue', 'after']:g} of 10.", at
    )
