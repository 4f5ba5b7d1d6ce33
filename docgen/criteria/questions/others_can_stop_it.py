"""Anyone near can stop the chair.

Asks: Where the power switch is and that a helper reaches it, what a helper can do, and where the stop switch is, or
    that the chair has none; with a latch it must have one. Met in part where nobody timed how soon it is reached by
    someone who is not at the chair; where they stand clear of it as it turns, and reach a stop only once it faces them;
    where there is a place from which nobody reaches it, or an elevator without room for whoever must be at the chair;
    where an arm that moves by itself strikes the power switch, or may.
Why a payer asks: Safety of others; the caregiver's guide is built on it.
What settles it: power_off with power_off_by, helper, driver and stop_switch under [configuration.stop];
    has_switch = false in place of stop_switch where nothing is latched; helper_stops_by beside a helper_switch; reach_s
    and reach_on, clear_reach_s beside stands_clear, and no_stop_from where it is so, of each place in [[supervision]];
    arm_reaches_power under [configuration.stop] where the arms move by themselves.
Source: US national coverage determination 280.3, question 4; article A52504, stop switch of latched controls
    (definition).
"""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.helper_room import places_without_room, walks_up
from docgen.criteria.mend import Mend, fill_in
from docgen.criteria.moving_arm import SAYS, arm_at_power
from docgen.criteria.sentences import capital, listed

HEADING = "safety"
CLAIM = "Anyone near can stop the chair"
SHOWN_IN = (
    "order: Stopping Means",
    "letter: Safety and Home Environment",
)
DANGER = "untold"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    configuration = grounds.case.configuration
    wanted = {
        "power_off": "where the power switch is",
        "power_off_by": "who reaches the power switch" if configuration.stop.power_off else "who reaches it",
        "helper": "what a helper can do",
        "driver": "how the driver stops it",
    }
    if configuration.stop.has_switch is False and configuration.is_latched:
        return not_met(
            "Forward is latched and the chair has no stop switch.",
            ("configuration", "stop", "has_switch"),
            mend="Add a stop switch that driver and helper reach, or request momentary (unlatched) drive.",
        )
    known_to_helpers = configuration.stop.helpers_own and not configuration.is_latched
    if configuration.stop.has_switch is not False and not known_to_helpers:
        wanted["stop_switch"] = "where the stop switch is, or that there is none besides the power switch"
    missing = [key for key in wanted if not getattr(configuration.stop, key)]
    if missing:
        return cannot_tell(
            f"Not recorded: {listed(wanted[key] for key in missing)}.",
            ("configuration", "stop"),
            mend=_mend(missing),
        )
    if configuration.stop.power_off_by == "driver":
        return not_met(
            "The power switch is recorded as the driver's; whether a helper reaches it too, or turns the power off "
            "with something else, is not recorded.",
            ("configuration", "stop", "power_off_by"),
            mend='Write power_off_by = "both" where a helper reaches it too; else have the supplier fit a power switch '
            "that a helper reaches.",
        )
    if configuration.stop.helper_switch and configuration.stop.helper_stops_by is None:
        return cannot_tell(
            "An attendant stop switch is recorded, and not whether it is one of its own or the power switch.",
            ("configuration", "stop", "helper_switch"),
            mend=fill_in({"configuration.stop.helper_stops_by": ""}, ': "own_switch" or "power_switch"'),
        )
    open_ = "".join((*_beyond_reach(grounds.case), *_unplaced(grounds), *_struck(grounds.case)))
    return met(
        f"How the driver, an attendant and anyone at the power switch stop the chair is recorded.{open_}",
        ("configuration", "stop"),
        limit="in_part" if open_ else "",
    )


def _beyond_reach(case: Case) -> Iterator[str]:
    """Where a stop is not reached, or not shown to be reached in time by the day of the letter, as sentences."""
    written = case.dates.written_on
    near = [place for place in case.supervision if place.is_near and not place.is_later]
    untimed = [
        place.place
        for place in near
        if walks_up(place) and (not place.reach_s or not place.reach_on or (written and place.reach_on > written))
    ]
    if untimed:
        yield f" How soon whoever is near reaches it was not timed: {listed(untimed)}."
    if turning := [place for place in near if place.stands_clear]:
        yield (
            " As it turns, whoever is near stands clear of it, and a stop is in reach only once it faces them: "
            f"{listed(place.place for place in turning)}."
        )
    if untimed := [place.place for place in turning if not place.clear_reach_s]:
        yield f" How soon it is stopped from where they stand as it turns was not timed: {listed(untimed)}."
    for place in near:
        if place.no_stop_from:
            yield f" {capital(place.place)}, nobody reaches the stop switch {place.no_stop_from}."


def _unplaced(grounds: Grounds) -> Iterator[str]:
    """Where there is no room for whoever must be at the chair, as a sentence."""
    if names := [there.space.name for there in places_without_room(grounds)]:
        yield f" Where whoever is near stands, and reaches it from, is not settled: {listed(names)}."


def _struck(case: Case) -> Iterator[str]:
    """Whether an arm that moves by itself strikes the power switch, as a sentence where that is so or not known."""
    yield from (f" {says}" for says in (SAYS[arm_at_power(case)],) if says)


def _mend(missing: list[str]) -> Mend:
    """The keys that are missing; where that is the place of the stop switch, it may be that there is none."""
    if "stop_switch" not in missing:
        return fill_in(dict.fromkeys(missing, ""), " under [configuration.stop]")
    none = "; where there is no stop switch, has_switch = false"
    return Mend(f"Fill in {listed(missing)} under [configuration.stop]{none}.", fill=(*missing, "has_switch"))
