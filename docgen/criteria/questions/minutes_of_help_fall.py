"""Where less help is claimed, its minutes fall.

Asks: Whether an activity that is said to need less help with the device takes as many minutes of help as before.
Why a payer asks: Both are in one row of the letter's table; a reviewer takes the minutes.
What settles it: minutes_with of the activity, counted again, or with_device as it is.
Source: L33789 criterion N; that a lower level of help takes fewer minutes is common practice, no source.
"""

from __future__ import annotations

from docgen.case.need import HELP_LEVELS, Activity
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend
from docgen.criteria.sentences import counted, listed

HEADING = "record"
CLAIM = "Minutes of assistance fall where less assistance is claimed"
SHOWN_IN = ("letter: Mobility Limitation and MRADLs in the Home",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    recorded = [(at, activity) for at, activity in enumerate(grounds.case.activities) if _is_whole(activity)]
    if not recorded:
        return cannot_tell(
            "No activity has its level and its minutes of help before and with the device.",
            ("activities",),
            mend=Mend(
                "Fill in before, with_device, minutes_before and minutes_with of each activity.",
                fill=("before", "with_device", "minutes_before", "minutes_with"),
            ),
        )
    still = [
        (at, a) for at, a in recorded if _falls(a) and a.minutes_before and (a.minutes_with or 0) >= a.minutes_before
    ]
    if still:
        minutes = listed(f"{a.name}: {a.minutes_before:g} minutes, then {a.minutes_with:g}" for _, a in still)
        return not_met(
            f"Less help is claimed, and its minutes do not fall: {minutes}.",
            *(("activities", at, "minutes_with") for at, _ in still),
            *(("activities", at, "with_device") for at, _ in still),
            mend="Count the minutes again, or write the level of help that they show.",
        )
    return met(
        (
            f"Of {counted(len(recorded), 'activity', 'activities')}, none that needs less help takes as many "
            "minutes as now."
        ),
        *(("activities", at, "minutes_with") for at, _ in recorded),
    )


def _is_whole(activity: Activity) -> bool:
    values = (activity.before, activity.with_device, activity.minutes_before, activity.minutes_with)
    return all(value is not None for value in values)


def _falls(activity: Activity) -> bool:
    return HELP_LEVELS.index(activity.with_device or "") > HELP_LEVELS.index(activity.before or "")
