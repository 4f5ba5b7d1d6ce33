"""Each day of the trial is one of the visits.

Asks: Whether each day on which a row or a total of the trial was recorded is the day of a visit, where visits are
    recorded at all.
Why a payer asks: A letter names the days of the evaluation; a day of the trial that is none of them reads as a slip, or
    as a day on which nobody qualified was there.
What settles it: The visit under visits with on and by, or the date mended in the rows.
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import counted, day, listed

HEADING = "record"
CLAIM = "Each day of the trial is a visit"
SHOWN_IN = ("letter: Equipment Trial and Results",)
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    visits = {visit.on for visit in case.visits}
    days = sorted({row.date for row in case.tried})
    if not days:
        return cannot_tell("No row of a trial is recorded.", ("trial", "rows"), mend="Add the rows of the trial.")
    if not visits:
        return does_not_apply("No visit is recorded.", ("visits",))
    if beside := [on for on in days if on not in visits]:
        verb = "is a day" if len(beside) == 1 else "are days"
        return not_met(
            f"{listed(day(on) for on in beside)} {verb} of the trial, and no visit is recorded for it.",
            ("visits",),
            ("trial", "rows"),
            mend=add_entry("visits", "on", "by", tail=", or mend the date in the rows"),
        )
    return met(f"{counted(len(days), 'day', 'days')} of the trial, each a visit.", ("visits",), ("trial", "rows"))
