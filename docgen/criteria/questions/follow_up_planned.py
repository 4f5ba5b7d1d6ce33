"""Follow-up after delivery is planned.

Asks: Whether visits or calls after delivery are planned, with what is looked at.
Why a payer asks: Pads move, bodies change, and gains fade when nobody looks.
What settles it: [[follow_up]] with after_weeks and what; the first within the setting's weeks.
Source: common practice, no source; short gains fade by three months: Kirby et al. 2015 (abstract read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import counted

HEADING = "independence"
CLAIM = "Follow-up is planned"
SHOWN_IN = (
    "letter: Training and Follow-Up Plan",
    "plan: Follow-up",
)
SETTINGS = {"first_within_weeks": 6}


def answer(grounds: Grounds, first_within_weeks: float) -> Answer:
    visits = grounds.case.follow_up
    if not visits:
        return cannot_tell(
            "No follow-up is recorded.", ("follow_up",), mend=add_entry("follow_up", "after_weeks", "what")
        )
    first = min(visit.after_weeks for visit in visits)
    if first > first_within_weeks:
        return not_met(
            f"The first follow-up is after {first:g} weeks.",
            ("follow_up",),
            mend=f"Plan one within {first_within_weeks:g} weeks of delivery.",
        )
    return met(
        f"{counted(len(visits), 'follow-up is', 'follow-ups are')} planned, the first after {first:g} weeks.",
        ("follow_up",),
    )
