"""Whoever can change the profile is there where it must be changed.

Asks: Where places of the record are driven in different profiles, who reaches what changes the profile; where a helper
    alone does, whether the client may drive anywhere with nobody near.
Why a payer asks: A payer does not. A slow profile that nobody sets before the narrow door is no limit of speed there.
What settles it: configuration.choose_by; chair_state and level of the places in [[supervision]].
Source: follows from the stopping distance of each place, which is worked out at the speed of its profile; common
    practice, no source.
"""

from __future__ import annotations

from docgen.case.lines import KeyPath
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed

HEADING = "safety"
CLAIM = "The profile of a place is set by someone who is there"
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    choose_by: KeyPath = ("configuration", "choose_by")
    used = {space.profile for space in case.spaces if space.profile}
    if not case.spaces:
        return cannot_tell(
            "No place is recorded, so whether any needs its own profile is not known.",
            ("spaces",),
            mend=add_entry("spaces", "id", "name", "kind", "profile"),
        )
    if len(used) < 2:
        return does_not_apply("No two places are recorded with different profiles.", ("spaces",))
    by = case.configuration.choose_by
    if by is None:
        return cannot_tell(
            "Places are driven in different profiles, and who can change the profile is not recorded.",
            choose_by,
            mend=fill_in({"configuration.choose_by": '"driver", "helper" or "both"'}),
        )
    unwatched = [(at, place) for at, place in enumerate(case.supervision) if place.drives_unwatched]
    if by == "helper" and unwatched:
        return not_met(
            f"Only a helper can change the profile, and the client drives with nobody near: "
            f"{listed(place.place for _, place in unwatched)}.",
            choose_by,
            *(("supervision", at) for at, _ in unwatched),
            mend="Give the client a way to change the profile, or one profile for all places driven alone.",
            danger=True,
        )
    return met("Who changes the profile is recorded, and is there.", choose_by)
