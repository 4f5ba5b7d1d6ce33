"""A limit of mobility significantly impairs a daily activity in the home.

Asks: Which daily activity at home is prevented, unsafe or too slow without the device, and how that is known.
    A room or door that such an activity names and that was not measured is told, and the answer is met in part.
Why a payer asks: Coverage rests on need in the home; need outside is kept apart.
What settles it: One entry in [[activities]] with at_home = true, barrier, before and what happens now.
Source: US national coverage determination 280.3, question 1; L33789 criterion A.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import get_args

from docgen.case.model import Case
from docgen.case.need import Activity
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import counted, listed
from docgen.criteria.ways_out import in_rooms_not_backed_out_of

HEADING = "independence"
CLAIM = "A mobility-related activity of daily living (MRADL) in the home requires it"
SETTINGS = {"kinds": ["toileting", "feeding", "dressing", "grooming", "bathing"]}
_WORD = re.compile(r"[^\W\d_]+")
_NO_PLACE = frozenset(("the", "a", "an", "of", "to", "and", "his", "her", "their", "its"))
CHOICES = {"kinds": get_args(Activity.model_fields["needed_for"].annotation)}


def answer(grounds: Grounds, kinds: list[str]) -> Answer:
    activities = list(enumerate(grounds.case.activities))
    home = [(i, a) for i, a in activities if a.at_home and a.needed_for in kinds]
    if unplaced := [(i, a) for i, a in activities if a.at_home is None]:
        return where_is_not_recorded(unplaced)
    if not home:
        return cannot_tell(
            f"No activity at home is recorded for {listed(kinds, 'or')}.",
            ("activities",),
            mend=add_entry("activities", "needed_for", "barrier", "before", at_home=True),
        )
    shown = [(i, a) for i, a in home if a.barrier and a.before and a.before not in ("set_up", "alone")]
    if not shown:
        return cannot_tell(
            f"How the limit shows is not recorded for: {listed(a.name for _, a in home)}.",
            *(("activities", i) for i, _ in home),
            mend=fill_in(
                {"barrier": '<"prevents", "unsafe" or "too_slow">', "before": "<help needed now>"}, " in [[activities]]"
            ),
        )
    apart = in_rooms_not_backed_out_of(grounds.case)
    untried = [a.name for _, a in shown if a in apart]
    unmeasured = _unmeasured(grounds.case, [a for _, a in shown])
    return met(
        f"{counted(len(shown), 'activity', 'activities')} at home: {listed(a.name for _, a in shown)}."
        + (f" Backing out of the room was not tried: {listed(untried)}." if untried else "")
        + (f" Not measured, and named by these: {listed(unmeasured)}." if unmeasured else ""),
        *(("activities", i) for i, _ in shown),
        limit="in_part" if untried or unmeasured else "",
    )


def where_is_not_recorded(unplaced: Sequence[tuple[int, Activity]]) -> Answer:
    """The answer while it is open whether activities are done at home or away."""
    return cannot_tell(
        f"Whether it is done at home is not recorded: {listed(a.name for _, a in unplaced)}.",
        *(("activities", i) for i, _ in unplaced),
        mend=fill_in({"at_home": "<true or false>"}, " in [[activities]]"),
    )


def _unmeasured(case: Case, activities: Sequence[Activity]) -> list[str]:
    """Rooms and doors of the home that were not measured and that an activity names, each word of theirs."""
    named = [_words(f"{activity.name} {activity.says or ''}") for activity in activities]
    return [place for place in case.client.not_measured if any(_words(place) <= words for words in named)]


def _words(text: str) -> set[str]:
    words = {word.lower() for word in _WORD.findall(text)} - _NO_PLACE
    return words | {"bedroom"} if "bed" in words else words  # who is taken from the bed is taken from its room
