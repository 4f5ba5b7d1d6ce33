"""With the device the client needs less help with a daily activity at home.

Asks: Whether help at home falls in level or in minutes with the device, compared with now.
Why a payer asks: The device must improve participation in daily life, and theory alone is not accepted.
What settles it: before and with_device, or minutes_before and minutes_with, for activities at home, from the trial or a diary.
Source: L33789 criterion N; US Program Integrity Manual 5.11.
"""

from __future__ import annotations

from docgen.case.need import HELP_LEVELS, Activity
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend
from docgen.criteria.sentences import counted, listed

HEADING = "independence"
CLAIM = "Less help is needed at home with it"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    home = [(i, a) for i, a in enumerate(grounds.case.activities) if a.at_home]
    rated = [
        (i, a, HELP_LEVELS.index(a.with_device) - HELP_LEVELS.index(a.before))
        for i, a in home
        if a.before and a.with_device
    ]
    before, after = grounds.evidence.of("minutes_before_home"), grounds.evidence.of("minutes_with_home")
    if not rated and not before:
        return cannot_tell(
            "Help at home with the device is not recorded.",
            ("activities",),
            mend=Mend(
                "Fill in with_device, or minutes_before and minutes_with, for activities at home.",
                fill=("with_device", "minutes_before", "minutes_with"),
            ),
        )
    gained = [(i, a) for i, a, change in rated if change > 0]
    worse = [a.name for a in grounds.case.activities if _more_help(a)]
    minutes = before.value - after.value if before and after else 0
    told = (
        [f"help with {counted(len(gained), 'activity', 'activities')} of {len(rated)} at home falls in level"]
        if gained
        else []
    )
    told += [f"help at home falls from {before.value:g} to {after.value:g} minutes a day"] if minutes > 0 else []
    facts = tuple(f.id for f in (before, after) if f)
    if not told:
        return not_met(
            "No activity at home needs less help with the device.",
            *(("activities", i) for i, _, _ in rated),
            facts=facts,
            mend=Mend(
                "Write in with_device and minutes_with of [[activities]] <the help needed with it>; if none falls, reconsider the request.",
                fill=("with_device", "minutes_with"),
                work=True,
            ),
        )
    but = f" More help is needed to {listed(worse)}." if worse else ""
    reason = listed(told)
    return met(f"{reason[:1].upper()}{reason[1:]}.{but}", *(("activities", i) for i, _ in gained or home), facts=facts)


def _more_help(activity: Activity) -> bool:
    """Whether an activity, at home or not, takes more help with the device: in level or in minutes."""
    levels, minutes = (activity.before, activity.with_device), (activity.minutes_before, activity.minutes_with)
    lower = None not in levels and HELP_LEVELS.index(levels[1]) < HELP_LEVELS.index(levels[0])
    return lower or (None not in minutes and minutes[1] > minutes[0])
