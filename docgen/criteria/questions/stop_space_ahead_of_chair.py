"""The space to stop in is what is left ahead of the chair once it is in the place.

Asks: From where the clear space ahead of each place is measured, and whether a chair of this length, once it is in,
    still stops in what is left; and whether a profile is said to stop inside a space in which it does not.
Why a payer asks: Of 1300 mm behind a door a chair of 1080 mm leaves 220 to stop in; a sum with the whole length looks
    safe and is not.
What settles it: ahead_from of each space, "chair" or "way_in", and length_mm under [configuration.chair]; then a longer
    space or a slower profile.
Source: US national coverage determination 280.3, questions 4 and 6; the sum is that of stops_within_space, less the
    length of the chair.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec.structs import replace

from docgen.case.lines import KeyPath
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed
from docgen.evidence.stopping_rule import StopThere, room_ahead_m
from docgen.units import ground, stretch

HEADING = "record"
CLAIM = "The space to stop is measured ahead of the chair"
SHOWN_IN = ("letter: Safety and Home Environment",)
SETTINGS: dict[str, object] = {}

_LENGTH: KeyPath = ("configuration", "chair", "length_mm")
# what a profile is said to stop inside is held against the sum
_SAYS_IT_STOPS = re.compile(r"\bstops? (inside|within|in|before)\b", re.IGNORECASE)
Placed = tuple[int, StopThere]


def answer(grounds: Grounds) -> Answer:
    measured = [
        (at, there)
        for at, there in enumerate(grounds.evidence.stopping.places)
        if there.space.clear_ahead_mm is not None
    ]
    if not grounds.case.spaces:
        return cannot_tell(
            "No space is recorded.", ("spaces",), mend=add_entry("spaces", "clear_ahead_mm", "ahead_from", "profile")
        )
    if not measured:
        return does_not_apply("No space to stop in is recorded.", ("spaces",))
    if untrue := [*_said_and_untrue(grounds)]:
        return not_met(
            " ".join(sentence for sentence, _, _ in untrue),
            *dict.fromkeys(path for _, at, place in untrue for path in (at, place)),
            mend="Lower the speed of the profile, or write why what is true of it.",
            danger=True,
        )
    if untold := [(at, there) for at, there in measured if _matters(grounds, there)]:
        return _untold(grounds, untold)
    places = [(at, there) for at, there in measured if there.space.ahead_from == "way_in"]
    if not places:
        return met(
            "No space to stop in is recorded that the length of the chair would make too short.",
            *(("spaces", at, "clear_ahead_mm") for at, _ in measured),
        )
    return met(
        f"The length of the chair is taken off: {listed(_left(there) for _, there in places)}.",
        *(("spaces", at, "ahead_from") for at, _ in places),
        _LENGTH,
    )


def _matters(grounds: Grounds, there: StopThere) -> bool:
    """Whether the chair could be too long to stop there, as far as is recorded."""
    case, space = grounds.case, there.space
    if space.ahead_from == "chair":
        return False
    if case.configuration.chair.length_mm is None:
        return True
    left_m = room_ahead_m(case, space.model_copy(update={"ahead_from": "way_in"}))
    return space.ahead_from is None and replace(there, room_m=left_m).stops is False


def _untold(grounds: Grounds, untold: list[Placed]) -> Answer:
    length_mm = grounds.case.configuration.chair.length_mm
    at_places = [("spaces", at, "ahead_from") for at, _ in untold]
    if length_mm is None:
        return cannot_tell(
            f"The chair's overall length is not recorded, so what it leaves to stop in once it is in the "
            f"{listed(there.space.name for _, there in untold)} cannot be told.",
            _LENGTH,
            *at_places,
            mend=fill_in({"configuration.chair.length_mm": "<mm>"}),
            danger=any(there.space.ahead_from == "way_in" for _, there in untold),
        )
    unknown = (
        f"in the {there.space.name} {ground(recorded(there.space.clear_ahead_mm), 'down')} ahead are recorded, of "
        f"which the chair takes {ground(length_mm, 'up')} if they are measured from the way in, and it stops in "
        f"{ground(recorded(there.distance_m) * 1000, 'up')}"
        for _, there in untold
    )
    return cannot_tell(
        f"From where the space ahead is measured is not recorded: {listed(unknown)}.",
        *at_places,
        _LENGTH,
        mend=fill_in({"ahead_from": '"chair" or "way_in"'}, " of the space"),
        danger=True,
    )


def _said_and_untrue(grounds: Grounds) -> Iterator[tuple[str, KeyPath, KeyPath]]:
    """What is said of a profile whose reason says that it stops, where it does not; where that stands, and the
    space."""
    for index, profile in enumerate(grounds.case.configuration.profiles):
        if not _SAYS_IT_STOPS.search(profile.why or ""):
            continue
        for at, there in enumerate(grounds.evidence.stopping.places):
            if there.profile is profile and there.stops is False:
                yield (
                    f"The {profile.name} profile is said to stop in its space, and in the {there.space.name} the chair "
                    f"stops in {stretch(recorded(there.distance_m), 'up')} and has "
                    f"{stretch(recorded(there.room_m), 'down')}.",
                    ("configuration", "profiles", index, "why"),
                    ("spaces", at, "clear_ahead_mm"),
                )


def _left(there: StopThere) -> str:
    return f"{ground(recorded(there.room_m) * 1000, 'down')} are left in the {there.space.name}"
