"""Follow-up after delivery was held when it was due.

Asks: Whether each visit whose day lies before the last day recorded was held, with some days of grace.
Why a payer asks: A re-evaluation rests on what was looked at since delivery; a visit that was missed leaves a hole
    where parts break and bodies change.
What settles it: done_on of each [[follow_up]]; the day it was due follows from dates.delivered_on and after_weeks.
Source: common practice, no source; that delivered equipment is often left unused: Phillips and Zhao 1993, Assist
    Technol 5:36 (second-hand).
"""

from __future__ import annotations

from datetime import timedelta

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import counted, day, listed
from docgen.criteria.steps import DELIVERY, not_delivered
from docgen.fit.schedule import due_by

HEADING = "independence"
CLAIM = "Follow-up was held when it was due"
SHOWN_IN = ("progress: Follow-up",)
SETTINGS = {"grace_days": 14}


def answer(grounds: Grounds, grace_days: int) -> Answer:
    case = grounds.case
    if early := not_delivered(case, "follow-up is counted from delivery"):
        return early
    if not case.follow_up:
        return cannot_tell(
            "No follow-up is recorded.", ("follow_up",), mend=add_entry("follow_up", "after_weeks", "what")
        )
    days = [row.date for row in case.sessions] + [visit.done_on for visit in case.follow_up if visit.done_on]
    if not days or case.dates.delivered_on is None:
        return does_not_apply(
            "Nothing is recorded since delivery by which a visit could be overdue.", ("follow_up",), DELIVERY
        )
    last = max(days)
    grace = timedelta(days=grace_days)
    overdue = [
        (place, on)
        for place, visit in enumerate(case.follow_up)
        if visit.is_open and (on := due_by(case, visit)) is not None and on + grace < last
    ]
    if overdue:
        due = listed(day(on) for _, on in overdue)
        return not_met(
            f"{counted(len(overdue), 'visit', 'visits')} due on {due} {'is' if len(overdue) == 1 else 'are'} "
            "not recorded as held, "
            f"and the record goes on until {day(last)}.",
            *(("follow_up", place) for place, _ in overdue),
            mend="Hold the visit and fill in follow_up.done_on <date>.",
        )
    n_done = sum(visit.done_on is not None for visit in case.follow_up)
    ahead = sum(visit.is_open for visit in case.follow_up)
    return met(
        f"{counted(n_done, 'visit was', 'visits were')} held; {ahead} still to come or not yet overdue on {day(last)}.",
        ("follow_up",),
        DELIVERY,
    )
