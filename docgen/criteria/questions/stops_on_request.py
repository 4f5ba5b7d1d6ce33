"""The client stops on command with the requested control.

Asks: How many stops on command succeeded with the requested control.
Why a payer asks: Safety of the client and of others; a stop that fails is the first thing a reviewer looks for.
What settles it: Rows of a task with shows = "stop", with at least eight of ten done; more missed than done is a danger,
    and blocks. Ten of ten is wanted before anyone drives alone; a missed stop is met by supervision that the record
    names, and the claim is met in part.
Source: US national coverage determination 280.3, question 4 (safe operation, self and others); eight of ten and ten of
    ten are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from docgen.case.model import Case
from docgen.case.supervision import Supervision
from docgen.criteria.alone import not_settled, places_alone, ruled_out_by
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.helper_room import places_crowded
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend, add_entry, fill_in
from docgen.criteria.sentences import counted, k_of_n, listed
from docgen.evidence.fact import Fact

HEADING = "safety"
CLAIM = "The client stops on command"
_THERE = ("hands_on_stop", "arms_length", "same_room", "in_sight")
_OR_NEAR = " of that place in [[supervision]], or name someone near there, where somebody can be"
SETTINGS = {"least_stops": 5, "least_share": 0.8, "least_stops_alone": 10}


def answer(grounds: Grounds, least_stops: int, least_share: float, least_stops_alone: int) -> Answer:
    case = grounds.case
    stops = grounds.evidence.of("stop_request", case.configuration.method)
    if stops is None:
        return cannot_tell(
            "No stop on command is recorded with the requested control.",
            ("trial", "tasks"),
            mend=Mend('Mark the stopping task with shows = "stop" and add its rows.', fill=("shows",)),
        )
    seen = f"{k_of_n(stops)} stops on command were made"
    missed = stops.n - int(recorded(stops.k))
    if stops.n < least_stops:
        return cannot_tell(
            f"{seen}; that is too few to tell.",
            ("trial", "rows"),
            facts=(stops.id,),
            mend=f"Add at least {least_stops - stops.n} more stops on command.",
        )
    if recorded(stops.value) < least_share:
        return not_met(
            f"{seen}, fewer than {least_share:.0%}.",
            ("trial", "rows"),
            facts=(stops.id,),
            mend="Train, change the setup, and repeat the stops.",
            danger=2 * missed > stops.n,
        )
    places = sorted(case.supervision, key=lambda place: bool(place.for_now))  # those that hold now come first
    by_self = [place.place for place in places if place.level == "alone" and place.drives_unwatched]
    if by_self and not missed and stops.n < least_stops_alone:
        return cannot_tell(
            f"{seen}; that is too few for a client who may drive alone {by_self[0]}.",
            ("trial", "rows"),
            ("supervision",),
            facts=(stops.id,),
            mend=f"Add at least {least_stops_alone - stops.n} more stops on command.",
            bare=f"{seen}; that is too few for a client who drives alone.",
        )
    if not missed:
        return met(f"{seen}.", ("trial", "tasks"), facts=(stops.id,))
    return _with_misses(grounds, places, stops, seen, missed)


def _with_misses(grounds: Grounds, places: Sequence[Supervision], stops: Fact, seen: str, missed: int) -> Answer:
    """What missed stops mean: someone has to be near wherever the client drives."""
    case = grounds.case
    alone = [place for place in places if place.drives_unwatched]
    if not case.supervision or alone:
        untold = bool(alone) and alone[0].chair_state is None
        where = (
            " no supervision is recorded"
            if not alone
            else f" whether the client is in the chair and drives {alone[0].place}, with nobody near, is not recorded"
            if untold
            else f" later on nobody is to be near {alone[0].place}"
            if alone[0].for_now
            else f" {alone[0].place} the client drives without anyone near"
        )
        return not_met(
            f"{seen}, {counted(missed, 'was', 'were')} missed, and{where}.",
            ("supervision", case.supervision.index(alone[0])) if untold else ("supervision",),
            facts=(stops.id,),
            mend=fill_in({"chair_state": '"off", "seat_only", "rests", "drives" or "in_bed"'}, _OR_NEAR)
            if untold
            else add_entry(
                "supervision",
                tail=(
                    " with someone near, where somebody can be; or train, change the setup and test as many stops "
                    "anew, all of them counted; or request another control"
                ),
            ),
            bare=f"{seen}, and {counted(missed, 'was', 'were')} missed.",
        )
    return met(
        f"{seen}; {counted(missed, 'stop was', 'stops were')} missed, and someone {_how_near(places)} wherever the "
        f"client drives{_turning(places)}{_unplaced(grounds)}{_while_alone(case)}.",
        ("supervision",),
        facts=(stops.id,),
        bare=f"{seen}, and {counted(missed, 'was', 'were')} missed.",
        limit="in_part",
    )


def _how_near(places: Sequence[Supervision]) -> str:
    """How near someone is where the client drives: who has the client in sight alone is not near."""
    levels = {place.level for place in places if place.level in _THERE}
    if "in_sight" not in levels:
        return "is near"
    return "has the client in sight" if levels == {"in_sight"} else "is near or has the client in sight"


def _turning(places: Sequence[Supervision]) -> str:
    """Where they stand clear of a chair that turns, and so reach no stop, as the end of a sentence; empty for none."""
    names = [place.place for place in places if place.is_near and not place.is_later and place.stands_clear]
    return f"; while it turns, that person reaches no stop: {listed(names)}" if names else ""


def _unplaced(grounds: Grounds) -> str:
    """In which elevators it is not settled where they stand, as the end of a sentence; empty for none."""
    names = [there.space.name for there in places_crowded(grounds)]
    return f"; where they stand is not settled: {listed(names)}" if names else ""


def _while_alone(case: Case) -> str:
    """What the record holds of the chair where nobody is near, as the end of a sentence: off, or its drive off; where
    being alone is not settled, that alone."""
    alone = [place for _, place in places_alone(case)]
    if open_ := [place.place for place in alone if not_settled(case, place) or ruled_out_by(case, place)]:
        return f"; being alone is not settled: {listed(open_)}"
    states = {place.chair_state for place in alone}
    if not states:
        return ""
    if states <= {"off", "in_bed"}:
        bed = "the client is in bed" if "in_bed" in states else ""
        off = "the chair is off" if "off" in states else ""
        return f"; where nobody is near, {listed(filter(None, [off, bed]), 'or')}"
    return "; where nobody is near, its drive is off"
