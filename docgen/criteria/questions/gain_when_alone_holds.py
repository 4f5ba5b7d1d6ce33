"""What is claimed for hours alone is there in hours alone.

Asks: Where the client is alone for part of the day, whether each gain at home is claimed for those hours too,
    whether the chair may then be driven or is off or in standby, and whether what is claimed then needs someone to set
    something again, who is not there.
Why a payer asks: A gain claimed for hours in which the chair is off is none, and a reviewer who reads both sentences
    denies the claim.
What settles it: when_alone of each activity, "drives", "at_rest" or "no"; and chair_state of the place in
    [[supervision]], the state of the chair in those hours.
Source: US national coverage determination 280.3, question 4; L33789 criterion N: theory alone is not accepted.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from docgen.case.need import HELP_LEVELS, Activity
from docgen.case.supervision import Supervision
from docgen.criteria.alone import places_alone
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "What is claimed for time alone is available then"
SHOWN_IN = ("letter: Mobility Limitation and MRADLs in the Home",)
SETTINGS: dict[str, object] = {}

# when_alone -> the states of the chair in which such a gain is there
_BEARS = {"drives": ("drives",), "at_rest": ("drives", "rests", "seat_only")}
# what has to be done more than once while nobody is there: common use of the words, no source
_AGAIN = re.compile(r"\b(again|each time|every time|whenever|after (?:a|an|each|every)\b)", re.IGNORECASE)
_STATES = {
    "off": "the chair is off then",
    "seat_only": "only the seat moves then",
    "rests": "the chair is in standby then",
    "in_bed": "the client is in bed then",
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.activities:
        return cannot_tell(
            "No activity is recorded.",
            ("activities",),
            mend=add_entry("activities", "name", "with_device", "when_alone"),
        )
    alone = places_alone(case)
    for_alone = [
        (at, activity) for at, activity in enumerate(case.activities) if activity.when_alone in ("drives", "at_rest")
    ]
    if not alone and for_alone:
        return cannot_tell(
            f"A gain in hours alone is claimed ({_names([a for _, a in for_alone])}), "
            "and who may be near then is not recorded.",
            *(("activities", at, "when_alone") for at, _ in for_alone),
            ("supervision",),
            mend=add_entry("supervision", "place", "by", level="on_call"),
        )
    if not alone:
        return does_not_apply("No hours alone are recorded.", ("supervision",))
    if lacking := _claimed_against(for_alone, alone) or _set_again(for_alone) or _unsaid(case.activities, alone):
        return lacking
    return met(
        "Each gain at home says whether it is claimed for hours alone, and none is claimed against what holds then.",
        *(("activities", at, "when_alone") for at, a in enumerate(case.activities) if a.when_alone),
        ("supervision",),
    )


def _claimed_against(
    for_alone: Sequence[tuple[int, Activity]], alone: Sequence[tuple[int, Supervision]]
) -> Answer | None:
    """Gains claimed for hours alone against the state of the chair then; None where it bears each of them."""
    false = [(at, a, i, place) for at, a in for_alone for i, place in alone if not _bears(place, a)]
    if known := [entry for entry in false if entry[3].chair_state is not None]:
        place = known[0][3]
        return not_met(
            f"A gain is claimed for hours alone ({_names(dict.fromkeys(activity for _, activity, _, _ in known))}), "
            f"and {place.place}: {_STATES[place.chair_state or 'off']}.",
            *dict.fromkeys(("activities", at, "when_alone") for at, _, _, _ in known),
            *dict.fromkeys(("supervision", i, "chair_state") for _, _, i, _ in known),
            mend='Write when_alone = "no" and what the gain is without those hours, or show that it drives then.',
        )
    if false:
        return cannot_tell(
            f"A gain is claimed for hours alone ({_names(dict.fromkeys(activity for _, activity, _, _ in false))}), "
            f"and whether the chair is on then is not recorded: {listed(dict.fromkeys(p.place for *_, p in false))}.",
            *dict.fromkeys(("activities", at, "when_alone") for at, _, _, _ in false),
            *dict.fromkeys(("supervision", i, "chair_state") for _, _, i, _ in false),
            mend=fill_in({"chair_state": '"off", "seat_only", "rests", "drives" or "in_bed"'}, " of each place alone"),
        )
    return None


def _set_again(for_alone: Sequence[tuple[int, Activity]]) -> Answer | None:
    """Gains claimed for hours alone that by their own words need someone again and again; None where none does."""
    again = [(at, a) for at, a in for_alone if a.with_device == "set_up" and _AGAIN.search(a.left or "")]
    if not again:
        return None
    at, activity = again[0]
    return not_met(
        f"A gain is claimed for hours alone ({_names(activity for _, activity in again)}), and what is left needs "
        f"someone who is not there then: {(activity.left or '').rstrip('. ')}.",
        *(("activities", at, key) for at, _ in again for key in ("when_alone", "left")),
        mend='Write when_alone = "no", and count in a sitting as long as the time alone how often it is done without '
        "that help.",
        bare=f"A gain is claimed for hours alone ({_names(activity for _, activity in again)}), and what is left of "
        "it needs someone who is not there then.",
    )


def _unsaid(activities: Sequence[Activity], alone: Sequence[tuple[int, Supervision]]) -> Answer | None:
    """Gains at home that do not say whether they are claimed for hours alone; None where each does."""
    unsaid = [(at, a) for at, a in enumerate(activities) if a.at_home and a.when_alone is None and _gains(a)]
    if unsaid:
        return cannot_tell(
            f"Whether the gain is claimed for hours alone is not recorded: {_names([a for _, a in unsaid])}.",
            *(("activities", at) for at, _ in unsaid),
            *(("supervision", at) for at, _ in alone),
            mend=fill_in({"when_alone": '"drives", "at_rest" or "no"'}, " of each activity at home"),
        )
    return None


def _bears(place: Supervision, activity: Activity) -> bool:
    """Whether the chair is known to be in a state then in which the gain is there."""
    return place.chair_state in _BEARS[activity.when_alone or "drives"]


def _gains(activity: Activity) -> bool:
    """Whether less help is claimed, in level or in minutes."""
    before, after = activity.minutes_before, activity.minutes_with
    if before is not None and after is not None and after < before:
        return True
    if activity.before is None or activity.with_device is None:
        return False
    return HELP_LEVELS.index(activity.with_device) > HELP_LEVELS.index(activity.before)


def _names(activities: Iterable[Activity]) -> str:
    return listed(activity.name for activity in activities)
