"""After a stop rule of training, driving goes on only once someone has cleared it.

Asks: Whether each stop rule met since delivery was followed by no further driving until someone cleared it.
Why a payer asks: Harm in training comes from driving on after a warning; a re-evaluation looks for how each was dealt
    with.
What settles it: sessions.csv beside the case, with cleared_by on the row of the warning or on the next one driven.
Source: common practice, no source: someone hurt, a person touched, two stops missed in a session, pain over 4 of 10 or
    up by 2, stiffness up by 2, fatigue 8 of 10, a skin mark.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.sentences import counted, day, listed
from docgen.criteria.steps import DELIVERY, not_delivered
from docgen.evidence.training import stops_met

HEADING = "safety"
CLAIM = "Each stop rule of training was kept"
SHOWN_IN = ("progress: Safety",)
SETTINGS: dict[str, object] = {}

_WORDS = {
    "injury": "someone was hurt",
    "person_contact": "a person was touched",
    "stops_missed": "two stops were missed",
    "pain": "pain was over the limit",
    "tone": "stiffness rose too far",
    "fatigue": "fatigue was at the limit",
    "skin": "there was a new skin mark",
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if early := not_delivered(case, "stop rules count from the first session"):
        return early
    if not case.sessions:
        return cannot_tell(
            "No row of training is recorded since delivery.",
            DELIVERY,
            ("training",),
            mend="Keep the tries of the lesson cards as sessions.csv beside the case.",
        )
    stops = stops_met(case)
    broken = [stop for stop in stops if stop.went_on is not None]
    at = ("training",)
    facts = ("since.stops_met", "since.stops_broken")
    if broken:
        reason = listed(
            f"on {day(stop.on)} {_WORDS[stop.kind]} (row {stop.line} of sessions.csv, driven on at row {stop.went_on})"
            for stop in broken[:3]
        )
        more = f", and {counted(len(broken) - 3, 'more', 'more')}" if len(broken) > 3 else ""
        return not_met(
            f"Driving went on before anyone cleared it: {reason}{more}.",
            at,
            facts=facts,
            mend="Ask the therapist now; write who cleared it, and when, into cleared_by of the next row driven.",
        )
    waits = any(stop.cleared_by is None for stop in stops)
    after = (
        "nobody has driven since the last, which is not cleared yet"
        if waits
        else "driving went on only after it was cleared"
    )
    reason = (
        f"{counted(len(stops), 'stop rule was', 'stop rules were')} met, and {after}"
        if stops
        else "No stop rule was met"
    )
    return met(f"{reason}, in {counted(len(case.sessions), 'try', 'tries')} recorded.", at, facts=facts)
