"""Who rides in a vehicle seated in the chair has the chair and the head held.

Asks: Whether the record says what secures the chair in the vehicle, and what is behind the head.
Why a payer asks: A chair that comes loose, or a head with nothing behind it, kills at a sudden stop.
What settles it: vehicle under [transport] with how the chair is held; a headrest, a head support or a pad behind the
    head.
Source: wheelchairs as seats in vehicles: RESNA WC-4 and ISO 7176-19 (tie-down or docking, belt, head restraint), from
    memory.
"""

from __future__ import annotations

import re

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "Chair and head are secured in a vehicle"
SHOWN_IN = ("letter: Safety and Home Environment",)
DANGER = True
SETTINGS: dict[str, object] = {}
_HOLDS_CHAIR = re.compile(r"tie[- ]?down|tied down|docking|docked|anchor|clamp|four straps|secured|restraint", re.I)
_HOLDS_HEAD = re.compile(r"head ?rest|head support|head restraint|skull support|behind (his|her|their|the) head", re.I)
_BEHIND = ("head_back",)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    ride = case.transport
    if ride.rides_in_chair is False:
        return does_not_apply("The client does not ride seated in the chair.", ("transport", "rides_in_chair"))
    if ride.rides_in_chair is None:
        return cannot_tell(
            "Whether the client rides in a vehicle seated in the chair is not recorded.",
            ("transport",),
            mend=fill_in({"transport.rides_in_chair": "<true or false>"}),
        )
    if ride.vehicle is None:
        return cannot_tell(
            "The client rides seated in the chair, and how it is held is not recorded.",
            ("transport", "vehicle"),
            mend=fill_in({"transport.vehicle": "<vehicle, and how the chair is held in it>"}),
        )
    ride_text = " ".join(filter(None, (ride.vehicle, ride.says)))
    lacking = [
        words
        for words, there in (
            ("holds the chair", bool(_HOLDS_CHAIR.search(ride_text))),
            ("is behind the head", bool(_HOLDS_HEAD.search(ride_text)) or _head_is_held(case)),
        )
        if not there
    ]
    if lacking:
        return not_met(
            f"The client rides seated in the chair, and nothing in the record {listed(lacking, 'or')}.",
            ("transport", "vehicle"),
            ("configuration", "items"),
            mend="Say how the chair is tied down and what is behind the head, or have the client ride in a seat.",
        )
    return met("What holds the chair and what is behind the head are recorded.", ("transport", "vehicle"))


def _head_is_held(case: Case) -> bool:
    """Whether a line, the base, the seating or the mounting record names something behind the head."""
    asked = case.configuration
    texts = [text for item in asked.items for text in (item.name, item.why)]
    texts += [asked.chair.cushion, asked.chair.why, asked.chair.name, case.trial.seating]
    return (
        any(item.supports == "headrest" for item in asked.items)
        or any(mount.site in _BEHIND for mount in asked.mounting)
        or any(text and _HOLDS_HEAD.search(text) for text in texts)
    )
