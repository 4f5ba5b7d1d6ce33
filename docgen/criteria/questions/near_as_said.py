"""Whoever must stay within arm's reach is not put out of it by the record's own words.

Asks: Of each place where someone must stay within arm's reach, whether the words of who that is put anyone within it,
    or all of them at the far end, at the door, in the next room.
Why a payer asks: A helper within arm's reach who waits at the end of a ramp 4.8 m long is not within it.
What settles it: by of the place in [supervision], with who stands at the chair; or the level that is true.
Source: common practice, no source: an arm's reach is about 0.7 m.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.near import IN_REACH, parted
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "Whoever must stay within arm's reach stands there"
SHOWN_IN = ("letter: Safety and Home Environment",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.supervision:
        return cannot_tell(
            "Supervision is not recorded.", ("supervision",), mend=add_entry("supervision", "place", "level", "by")
        )
    in_reach = [(at, place) for at, place in enumerate(case.supervision) if place.level in IN_REACH]
    if not in_reach:
        return does_not_apply("Nobody must stay within arm's reach anywhere.", ("supervision",))
    if away := [(at, place) for at, place in in_reach if place.by and not parted(place.by)[0]]:
        says = listed(f"{place.place}: “{(place.by or '').rstrip('. ')}”" for _, place in away)
        return not_met(
            f"Someone must stay within arm's reach, and the record puts them out of it: {says}.",
            *(("supervision", at, key) for at, _ in away for key in ("level", "by")),
            mend="Write in by who stands at the chair, or the level that is true.",
            danger=True,
        )
    return met(
        "Nobody who must stay within arm's reach is put out of it.", *(("supervision", at, "by") for at, _ in in_reach)
    )
