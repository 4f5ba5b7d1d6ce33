"""Whoever must be near can stop the chair from where they stand, in every place.

Asks: For each place where someone must be near: where they stand, with what they stop the chair from there, whether
    there is room beside the chair where they walk beside it, and whether a stop on the chair is reached in time by
    someone who is only in the room, as measured on a day. Who may be anywhere in the room does not stand at the chair.
    A switch that only puts the control in standby stops nothing, and a power switch of the driver's alone no helper.
Why a payer asks: Safe operation under supervision means that the supervisor can act.
What settles it: stands, stops_with and, where nobody is at the chair, reach_s and reach_on of each place in
    [[supervision]], with the spaces it covers; place and kind of the switches under [configuration.stop], with
    stop_switch_by and power_off_by.
Source: room of a person walking: body ellipse of 24 by 18 in, Fruin 1971, from memory. The rest is the stopping rule,
    with the helper's time in place of the release; common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from docgen.case.model import Case
from docgen.case.stop import Stop
from docgen.case.supervision import Supervision
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.helper_room import AT_THE_CHAIR, ELSEWHERE, WALKER_MM, walks_up
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import capital, counted, listed
from docgen.evidence.stopping_rule import StopThere

HEADING = "safety"
CLAIM = "Whoever supervises can stop the chair from there"
DANGER = "untold"
SETTINGS: dict[str, object] = {}
_ALONGSIDE = ("corridor", "elevator", "ramp", "path")  # kinds of places in which a helper walks with the chair
_AHEAD_OF_THE_BACK = ("armrest", "tray", "knee")  # beginnings of places that nobody behind the chair reaches
_HOW = {"stands": "where whoever is near stands", "stops_with": "with what they stop it"}
_IN_SECONDS = "in how many seconds someone who is not at the chair reaches its stop"
_MEASURED = "when the seconds to reach the stop were measured"
Place = tuple[int, Supervision]


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    near = [(at, place) for at, place in enumerate(case.supervision) if place.is_near]
    if not case.supervision:
        return cannot_tell(
            "Who is near, and where, is not recorded.",
            ("supervision",),
            mend=add_entry("supervision", "place", "level", "by"),
        )
    if not near:
        return does_not_apply("No place where someone must be near is recorded.", ("supervision",))
    for at, place in near:
        if reason := next(_wrong(grounds, place), None):
            return not_met(
                f"{capital(place.place)}: {reason}.",
                ("supervision", at),
                mend="Give whoever is near a stop that they reach there, or another place to stand, and record it.",
            )
    if untold := (
        _untold_of(near, _HOW)
        or _switches_untold(case.configuration.stop, [place for _, place in near])
        or _reach_untold([(at, place) for at, place in near if walks_up(place)])
    ):
        return untold
    return met(
        f"How the chair is stopped by whoever is near is stated for {counted(len(near), 'place', 'places')}.",
        *(("supervision", at) for at, _ in near),
    )


def _switches_untold(stop: Stop, near: list[Supervision]) -> Answer | None:
    """Cannot be told, where nothing says who reaches a switch that helpers are sent to; None where each is told."""
    wanted = {"power_off_by": "who reaches the power switch"} if stop.power_off else {}
    sent = [place for place in near if place.stops_with == "stop_switch"]
    if stop.stop_switch and not stop.helpers_own and sent:
        wanted["stop_switch_by"] = "who reaches the stop switch"
        if any(place.stands == "behind" for place in sent):  # who reaches none that is ahead of the back
            wanted["stop_switch_site"] = "at which place of the chair the stop switch is"
    missing = [key for key in wanted if getattr(stop, key) is None]
    if not missing:
        return None
    return cannot_tell(
        f"Not recorded is {listed(wanted[key] for key in missing)}.",
        *(("configuration", "stop", key) for key in missing),
        mend=fill_in({f"configuration.stop.{key}": "" for key in missing}),
    )


def _reach_untold(walking_up: list[Place]) -> Answer | None:
    """Cannot be told, where seconds to the stop on the chair, or the day they were measured on, are not recorded."""
    return _untold_of(walking_up, {"reach_s": _IN_SECONDS}) or _untold_of(walking_up, {"reach_on": _MEASURED})


def _untold_of(near: list[Place], asked: Mapping[str, str]) -> Answer | None:
    """Cannot be told, where one of these keys is not recorded of a place; None where each is.

    asked  key -> what it holds, in words
    """
    untold = [(at, place) for at, place in near if any(getattr(place, key) is None for key in asked)]
    if not untold:
        return None
    lacking = [key for key in asked if any(getattr(place, key) is None for _, place in untold)]
    return cannot_tell(
        f"Not recorded for {listed(place.place for _, place in untold)}: "
        f"{', and '.join(asked[key] for key in lacking)}.",
        *(("supervision", at) for at, _ in untold),
        mend=fill_in(dict.fromkeys(lacking, ""), " in [[supervision]]"),
    )


def _wrong(grounds: Grounds, place: Supervision) -> Iterator[str]:
    """Why the chair is not stopped from where they stand, as the end of a sentence; nothing where it is."""
    case = grounds.case
    stop = case.configuration.stop
    yield from _not_theirs(stop, place)
    if place.stands == "beside" and (tight := _no_room_beside(case, place)):
        yield f"there is no room beside the chair in the {tight}"
    if place.level in ELSEWHERE and place.stands in AT_THE_CHAIR:
        yield f"they are to stand {place.stands} the chair, and their level of supervision lets them be elsewhere"
    site = stop.power_off_site if place.stops_with == "power_off" else stop.at_hand[1]
    if place.stands == "behind" and place.stops_with != "remote_stop" and (site or "").startswith(_AHEAD_OF_THE_BACK):
        yield "they stand behind the chair, and the switch is ahead of its back"
    if walks_up(place) and place.reach_s is not None and (there := _gone_too_far(grounds, place)):
        yield f"before the stop is pressed the chair has used up the room ahead in the {there.space.name}"


def _not_theirs(stop: Stop, place: Supervision) -> Iterator[str]:
    """Why what they are sent to stops nothing for them."""
    if place.stops_with == "stop_switch" and not stop.at_hand[0] and stop.after_stop == "rests":
        yield "the switch named as the stop only puts the control in standby, and a command starts it again"
    if place.stops_with == "stop_switch" and not stop.at_hand[0] and stop.drivers_own[0]:
        yield "the stop switch is recorded as the driver's, and not as one that a helper reaches"
    if stop.power_off and stop.power_off_by == "driver":
        yield (
            "the power switch, which a helper has to turn off, is recorded as the driver's, and not as one that a "
            "helper reaches"
        )


def _no_room_beside(case: Case, place: Supervision) -> str:
    """The first place covered in which nobody has room beside the chair; empty where there is none, or unmeasured."""
    wide = case.configuration.chair.width_mm
    for space in case.spaces:
        if space.id not in place.covers or space.kind not in _ALONGSIDE or not space.clear_width_mm or not wide:
            continue
        if space.clear_width_mm - wide < WALKER_MM:
            return space.name
    return ""


def _gone_too_far(grounds: Grounds, place: Supervision) -> StopThere | None:
    """A place covered in which the chair has no room left when the helper's stop has stopped it."""
    braking = grounds.evidence.stopping.braking
    reach_s = max((s for s in (place.reach_s, place.clear_reach_s) if s is not None), default=None)
    if braking is None or reach_s is None:
        return None
    for there in grounds.evidence.stopping.places:
        if there.space.id not in place.covers or there.speed_m_s is None or there.room_m is None:
            continue
        gone_m = there.speed_m_s * (reach_s + braking.delay_s) + there.speed_m_s**2 / (2 * braking.deceleration_m_s2)
        if gone_m > there.room_m:
            return there
    return None
