"""At the speed of each profile the chair stops inside the space there is.

Asks: Whether the stopping distance at each profile's speed is shorter than the clear space ahead, in every place where
    that profile is used; on a slope a distance too long counts, one short enough is not taken as met. The room is
    counted with nobody in it: in an elevator that leaves none for whoever must be within arm's reach, and in a room of
    which nobody wrote where they stand while the chair turns, it is met in part; so it is where a profile is used in
    a place and the room ahead there was not measured.
Why a payer asks: Safe use in the places of daily life, shown in plain numbers.
What settles it: release_s in the rows, delay and deceleration of the chair and figures_from, which says where they
    were measured, speed of each profile, and clear_ahead_mm of each space; stands_clear of
    [[supervision]].
Source: US national coverage determination 280.3, questions 4 and 6; the sum is uniform deceleration after a delay. Room
    of a person: as in stop_in_reach.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.helper_room import STANDER_MM, WALKER_MM, places_crowded, rooms_without_a_stand, stands_told
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend, NewEntry, add_entry, fill_in
from docgen.criteria.risks import release_keys
from docgen.criteria.sentences import listed
from docgen.evidence.stopping_rule import Stopping, StopThere
from docgen.units import Side, length, rounded, spare, speed, stretch, too_little

HEADING = "safety"
CLAIM = "The chair stops within the space available"
DANGER = True
SETTINGS: dict[str, object] = {}
# a reviewer asks how small the margin is (common practice, no source); two inches, each rounded to its own side, may
# read alike
_TOLD_BELOW_MM = 150
_IN_INCHES_BELOW_M = 2.0  # common practice, no source


def answer(grounds: Grounds) -> Answer:
    case, rule = grounds.case, grounds.evidence.stopping
    if not case.configuration.profiles:
        return cannot_tell(
            "No drive profile is recorded.",
            ("configuration", "profiles"),
            mend=add_entry("configuration.profiles", "id", "name", "speed_m_s"),
        )
    measured = [(at, there) for at, there in enumerate(rule.places) if there.room_m is not None]
    if (no_profile := _no_profile(measured)) is not None:
        return no_profile
    if short := next(((at, there) for at, there in measured if there.stops is False), None):
        return _too_short(*short)
    if (no_room := _no_room_known(case, rule)) is not None:
        return no_room
    level = [(at, there) for at, there in measured if not there.space.is_sloping]
    placed = {there.space.profile for _, there in measured}
    if (untold := _untold(case, grounds.evidence.stopping, level, placed)) is not None:
        return untold
    return _all_stop(grounds, level, [there for _, there in measured if there.space.is_sloping])


def _all_stop(grounds: Grounds, level: list[tuple[int, StopThere]], slopes: list[StopThere]) -> Answer:
    """Met: the level place with the least room to spare, and what the sum does not hold."""
    case, rule = grounds.case, grounds.evidence.stopping
    index, least = min(level, key=lambda pair: recorded(pair[1].margin_m))
    crowded = "".join(_crowded(case, there) for there in places_crowded(grounds)) + _standing(grounds)
    unseen = _unmeasured(rule)
    stands = "".join(f" Whoever is near stands {words.rstrip('. ')}." for words in stands_told(grounds))
    within = "inside" if least.space.kind == "doorway" else "in"
    return met(
        f"Of what was measured, the least room is {within} the {least.space.name}: {_room(least)}. It is counted with "
        f"nobody standing in it.{unseen}{stands}{crowded} {_worked_out(case)}{_on_slopes(slopes)}",
        ("spaces", index),
        facts=tuple(dict.fromkeys(".".join(there.fact) for _, there in level)),
        limit="worked_out" if case.configuration.chair.figures_from and not crowded and not unseen else "in_part",
    )


def _unmeasured(rule: Stopping) -> str:
    """In which level places a profile is used though the room ahead was not measured, as a sentence after others; or
    empty."""
    names = [
        there.space.name
        for there in rule.places
        if there.profile and not there.space.clear_ahead_mm and not there.space.is_sloping
    ]
    return f" The room ahead in the {listed(names)} was not measured." if names else ""


def _crowded(case: Case, there: StopThere) -> str:
    """That an elevator has no room for whoever must be within arm's reach of the chair in it, as a sentence after
    others."""
    beside_mm = recorded(there.space.clear_width_mm) - recorded(case.configuration.chair.width_mm)
    return (
        f" In the {there.space.name} whoever stays within arm's reach needs room too: beside the chair "
        f"{length(beside_mm, 'down')} are left, and a person is taken as {length(WALKER_MM, 'up')} across, "
        f"{length(STANDER_MM, 'up')} deep. Where they stand as it drives in is not settled."
    )


def _standing(grounds: Grounds) -> str:
    """That it is not settled where whoever is near stands in rooms where the chair turns, as a sentence after others;
    or empty."""
    rooms = rooms_without_a_stand(grounds)
    if not rooms:
        return ""
    circle_mm = recorded(grounds.case.configuration.chair.turning_mm)
    floors = listed(f"{length(recorded(there.space.turning_mm), 'down')} in the {there.space.name}" for there in rooms)
    return (
        f" Where whoever is near stands while the chair turns in its {length(circle_mm, 'up')} is not settled: the "
        f"free floor is {floors}."
    )


def _worked_out(case: Case) -> str:
    """Where the delay and the braking come from that the distance is worked out from."""
    if source := case.configuration.chair.figures_from:
        return f"This is worked out with the delay and braking of {source}, to be confirmed on the chair delivered."
    return "This is worked out with a delay and a braking of which the record does not say where they were measured."


def _no_profile(measured: list[tuple[int, StopThere]]) -> Answer | None:
    """Of which measured places it is not recorded with which profile they are driven."""
    if unplaced := [(at, there) for at, there in measured if not there.space.profile]:
        return cannot_tell(
            f"Which profile is used in the {listed(there.space.name for _, there in unplaced)} is not recorded.",
            *(("spaces", at) for at, _ in unplaced),
            mend=fill_in({"profile": "<id of a profile>"}),
        )
    return None


def _no_room_known(case: Case, rule: Stopping) -> Answer | None:
    """In which places the space ahead is measured and the room to stop is not known, for want of the chair's length."""
    if unroomed := [
        (at, space) for at, space in enumerate(case.spaces) if space.clear_ahead_mm and rule.places[at].room_m is None
    ]:
        return cannot_tell(
            f"The room to stop in the {listed(space.name for _, space in unroomed)} cannot be worked out: the chair's "
            "length is not recorded.",
            *(("spaces", at, "clear_ahead_mm") for at, _ in unroomed),
            mend=fill_in({"configuration.chair.length_mm": "<mm>"}),
        )
    return None


def _untold(case: Case, rule: Stopping, level: list[tuple[int, StopThere]], placed: set[str | None]) -> Answer | None:
    """What is not recorded of the level places, or of a profile that is driven in none."""
    if not level:
        return cannot_tell(
            "No level space to stop in is recorded with its profile.",
            ("spaces",),
            mend=fill_in({"clear_ahead_mm": "<mm>", "profile": "<id>"}, " of each space"),
        )
    if untold := next(((at, there) for at, there in level if there.distance_m is None), None):
        index, there = untold
        return cannot_tell(
            f"The stopping distance in the {there.space.name} cannot be worked out: {there.lacking} not recorded.",
            ("configuration", "chair"),
            ("spaces", index),
            *(
                ("configuration", "profiles", i)
                for i, p in enumerate(case.configuration.profiles)
                if p is there.profile
            ),
            mend=_to_work_it_out(case, rule, there),
        )
    fastest_m_s = max(recorded(there.speed_m_s) for _, there in level)
    elsewhere = [(i, p) for i, p in enumerate(case.configuration.profiles) if p.id not in placed]
    if unknown := [(i, p) for i, p in elsewhere if p.speed_m_s is None]:  # it may be the fastest
        names = listed(p.name for _, p in unknown)
        return cannot_tell(
            f"Neither the speed of the {names} profile nor a space to stop in is recorded.",
            *(("configuration", "profiles", i) for i, _ in unknown),
            mend=fill_in({"speed_m_s": "<m/s>"}, " of the profile"),
        )
    if faster := [(i, p) for i, p in elsewhere if recorded(p.speed_m_s) > fastest_m_s]:
        return cannot_tell(
            f"No space to stop in is recorded for the faster {listed(p.name for _, p in faster)} profile.",
            ("spaces",),
            *(("configuration", "profiles", i) for i, _ in faster),
            mend=Mend(
                f'Add a space with clear_ahead_mm <mm> and profile = "{faster[0][1].id}".',
                add=(NewEntry("spaces", ("clear_ahead_mm",), (("profile", f'"{faster[0][1].id}"'),)),),
            ),
        )
    return None


def _to_work_it_out(case: Case, rule: Stopping, there: StopThere) -> Mend:
    """The columns and keys without which no stopping distance is worked out in a place."""
    chair = case.configuration.chair
    forms = {
        f"configuration.chair.{key}": form
        for key, form in (("electronics_delay_s", "<s>"), ("deceleration_m_s2", "<m/s2>"))
        if getattr(chair, key) is None
    }
    if rule.release.seconds is None:
        lead = f"Fill in {release_keys(case)} of the stops with the requested control"
        return fill_in(forms, lead=f"{lead}, and") if forms else Mend(f"{lead}.")
    if forms:
        return fill_in(forms)
    if there.profile is None:
        return fill_in({"profile": "<id of a profile>"}, f" of the {there.space.name}")
    if there.profile.speed_m_s is None:
        return fill_in({"speed_m_s": "<m/s>"}, f" of the {there.profile.name} profile")
    return Mend(f"Record: {there.lacking}.")


def _too_short(index: int, there: StopThere) -> Answer:
    slower = (
        f" The fastest speed that stops there is {speed(there.fastest_m_s)}." if there.fastest_m_s is not None else ""
    )
    return not_met(
        f"In the {there.space.name} {_room(there)}.{slower}",
        ("spaces", index),
        ("configuration", "profiles"),
        facts=(".".join(there.fact),),
        mend=(
            f"Lower the speed of the {there.profile.name if there.profile else ''} profile, or give this space a "
            "slower one."
        ),
    )


def _room(there: StopThere) -> str:
    distance_m, room_m = recorded(there.distance_m), recorded(there.room_m)
    both = f"the chair stops in {_compared(distance_m, 'up')} and has {_compared(room_m, 'down')}"
    if abs(recorded(there.margin_m) * 1000) >= _TOLD_BELOW_MM:
        return both
    # of the two as they are printed in mm, each rounded to its safe side, so that a reader finds the same
    spare_mm = 10 * (rounded(room_m * 100, "down") - rounded(distance_m * 100, "up"))
    if there.stops:
        return f"{both}, {spare(spare_mm) if spare_mm >= 10 else 'nothing'} to spare"
    return f"{both}, {too_little(-spare_mm)}"


def _compared(metres: float, side: Side) -> str:
    """A length as the letter tells it: where whole inches would hide what is to spare, in inches and fractions."""
    if metres >= _IN_INCHES_BELOW_M:
        return stretch(metres, side)
    return length(10 * rounded(metres * 100, side), side)


def _on_slopes(slopes: list[StopThere]) -> str:
    """What the answer does not stand for: a slope on which no stop was measured is never taken as met."""
    untold = [there.space.name for there in slopes if there.distance_m is None]
    unmeasured = [there.space.name for there in slopes if there.distance_m is not None and not there.measured]
    measured = [
        f" On the slope of the {there.space.name} {_room(there)}, as measured." for there in slopes if there.measured
    ]
    return (
        "".join(measured)
        + (f" On the slope of the {listed(untold)} the distance is not worked out." if untold else "")
        + (
            f" On the slope of the {listed(unmeasured)} it is worked out from the level and not measured."
            if unmeasured
            else ""
        )
    )
