"""Gains at home that wait: for a way out that was not tried, a table not parked at surely, a place not measured."""

from __future__ import annotations

import re
from collections.abc import Sequence

from docgen.case.model import Case
from docgen.case.need import Activity
from docgen.criteria.criterion import Grounds
from docgen.criteria.parking import at_tables_not_parked_at, done_too_seldom
from docgen.criteria.sentences import capital, listed
from docgen.criteria.ways_out import (
    in_rooms_not_backed_out_of,
    in_rooms_not_come_out_of,
    in_rooms_not_turned_in,
    in_rooms_pushed_out_of,
    in_rooms_turned_in,
)

# what gains wait for, as the beginning of a sentence, with the activities that wait for it
Waiting = Sequence[tuple[str, Sequence[Activity]]]

_WORD = re.compile(r"[^\W\d_]+")
_NO_PLACE = frozenset(("the", "a", "an", "of", "to", "and", "his", "her", "their", "its"))


def ways_out_untried(case: Case) -> list[tuple[str, list[Activity]]]:
    """What was not tried, or is not yet reliable, of the way out of a room, as the beginning of a sentence, and the
    activities that wait, each once."""
    backward, either_way = in_rooms_not_backed_out_of(case), in_rooms_not_come_out_of(case)
    untried = [activity for activity in case.activities if activity in backward or activity in either_way]
    waiting: list[Activity] = []
    reasons: list[tuple[str, list[Activity]]] = []
    for what, activities in (
        ("No way out of the room was tried", untried if either_way else []),
        ("Backing out of the room was not tried", backward),
        ("Turning in place, its only way out, was not tried", in_rooms_not_turned_in(case)),
        ("Coming out of the room has still to be reliable there", in_rooms_pushed_out_of(case)),
    ):
        if more := [activity for activity in activities if activity not in waiting]:
            waiting += more
            reasons.append((what, more))
    return reasons


def gains_waiting(grounds: Grounds) -> list[tuple[str, list[Activity]]]:
    """What gains at home wait for, as the beginning of a sentence, and the activities that wait for it."""
    case = grounds.case
    reasons = ways_out_untried(case)
    if unsure := at_tables_not_parked_at(grounds):
        reasons.append(("Parking at a table was not reliable in the trial", unsure))
    turns = [task for task in case.trial.tasks if task.turns]
    if done_too_seldom(grounds, turns) and (unsure := in_rooms_turned_in(case)):
        reasons.append(("Turning in place, the only way out, was not reliable in the trial", unsure))
    unmeasured = [(a, places) for a in case.activities if a.at_home and (places := places_unmeasured(case, [a]))]
    if unmeasured:
        places = [*dict.fromkeys(place for _, named in unmeasured for place in named)]
        were = "was" if len(places) == 1 else "were"
        reasons.append((f"{capital(listed(places))} {were} not measured", [a for a, _ in unmeasured]))
    return reasons


def places_unmeasured(case: Case, activities: list[Activity]) -> list[str]:
    """Rooms and doors of the home that were not measured and that an activity names, each word of theirs, or that by
    their own name lead into a measured room that it names."""
    named = [_words(f"{activity.name} {activity.says or ''}") for activity in activities]
    rooms = [_words(space.name) for space in case.spaces if space.at_home]
    return [
        place
        for place in case.client.not_measured
        if any(
            _words(place) <= words or any(room <= words and room <= _words(place) for room in rooms) for words in named
        )
    ]


def _words(text: str) -> set[str]:
    words = {word.lower() for word in _WORD.findall(text)} - _NO_PLACE
    return words | {"bedroom"} if "bed" in words else words  # who is taken from the bed is taken from its room
