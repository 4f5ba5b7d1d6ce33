"""Where nobody need touch the client any more, what the minutes of help that are left are for.

Asks: Whether an activity at supervision or independence with the device, with minutes of help by hand left, says what
    they are for and who gives it.
Why a payer asks: Watching is no minute of help; a row that claims supervision and counts minutes says two things.
What settles it: left of the activity, such as the lift onto the toilet; or minutes_with and with_device as they are.
Source: L33789 criterion N; that supervision has no minutes of help by hand follows from what the minutes count.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import Mend, add_entry
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "Minutes of assistance beside supervision are explained"
SHOWN_IN = ("letter: Mobility Limitation and MRADLs in the Home",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    if not grounds.case.activities:
        return cannot_tell(
            "No activity of daily living is recorded.",
            ("activities",),
            mend=add_entry("activities", "name", "with_device", "minutes_with"),
        )
    some = [(at, activity) for at, activity in enumerate(grounds.case.activities) if activity.has_minutes_to_tell]
    if not some:
        return does_not_apply(
            "No activity counts minutes of help by hand beside supervision or independence.", ("activities",)
        )
    silent = [(at, activity) for at, activity in some if not activity.left]
    if silent:
        return cannot_tell(
            "With the device nobody need touch the client, and what the minutes of help that are left are for is not "
            f"recorded: {listed(activity.name for _, activity in silent)}.",
            *(("activities", at, "minutes_with") for at, _ in silent),
            mend=Mend("Fill in left of each activity: what the minutes are for, and who helps.", fill=("left",)),
        )
    return met(
        "What the minutes of help beside supervision are for is recorded.",
        *(("activities", at, "left") for at, _ in some),
    )
