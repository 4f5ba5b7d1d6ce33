"""Drive profiles as the order sets them, and as they are set now: what a control without a way back leaves out, whether
each keeps going, and what was changed and met since delivery."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any, Literal, TypedDict

from docgen.case.change import VALUE_OF
from docgen.case.known_on import known_on
from docgen.case.model import Case
from docgen.case.need import Space
from docgen.case.profile import Profile
from docgen.criteria.where_now import Waits, waits_in
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words, joined
from docgen.documents.stages import stage_name, step_aim
from docgen.fit.in_force import Changed, InForce, in_force

MADE_FROM = {
    "profiles": made_from("configuration.profiles", waits="spaces"),  # of who is near, that a place waits alone
    "profile_steps": made_from("configuration.profiles"),
}

_IN_ONE = ("tried", "timed")  # what is done first at a place, told in one

_LABELS = {name: field.description or name for name, field in Profile.model_fields.items()} | {
    "latched": "whether this setting keeps going"
}


class ProfileRow(TypedDict):
    """One profile. Speeds in m/s, the turn rate in degrees/s, times in s.

    backs          whether a reverse speed can be set at all
    latched        whether forward keeps going after the signal; None where neither the profile nor the control tells
    waits          what its places still wait for before anyone drives there, in words
    ends_after_s   of a latch, when it ends by itself; 0 where it does not, or nothing keeps going
    """

    name: str
    speed_m_s: float | None
    reverse_m_s: float | None
    backs: bool
    turn_deg_s: float | None
    latched: Literal["yes", "no"] | None
    ends_after_s: float
    used: str | None
    waits: tuple[str, ...]
    why: str | None
    _labels: dict[str, str]


class StepRow(TypedDict):
    """A step of training that a profile waits for: its name, and what the driver learns in it."""

    name: str
    aim: str


def profile_steps(case: Case, words: Words) -> Iterator[StepRow]:
    """Each step of training after which a profile is used no more, in the order of the steps."""
    waits = {profile.until_stage for profile in case.configuration.profiles if profile.until_stage is not None}
    for step in sorted(waits):
        yield {"name": stage_name(step, words), "aim": step_aim(step, case, words)}


def profiles(case: Case, words: Words) -> Iterator[ProfileRow]:
    """Each profile, in the order of the case."""
    configuration = case.configuration
    for profile in configuration.profiles:
        yield {
            "name": profile.name,
            "speed_m_s": profile.speed_m_s,
            "reverse_m_s": profile.reverse_m_s,
            "backs": configuration.backs is not False,
            "turn_deg_s": profile.turn_deg_s,
            "latched": _latched(profile, configuration.is_held),
            "ends_after_s": profile.latch_timeout_s or 0 if profile.latched else 0,
            "used": profile.used,
            "waits": _waits(case, profile, words),
            "why": profile.why,
            "_labels": _LABELS,
        }


def _waits(case: Case, profile: Profile, words: Words) -> tuple[str, ...]:
    """What the places of a profile still wait for, each in words; places are named where others of it are open."""
    wording, waits = words["where_now"], waits_in(case, profile)
    sentences = [wording[w.why].format(places=_named(w, words), says=w.says) for w in waits if w.why not in _IN_ONE]
    first: dict[str, list[str]] = {}
    for waiting in (entry for entry in waits if entry.why in _IN_ONE):
        first.setdefault(_named(waiting, words), []).append(words["done_first"][waiting.why].format(says=waiting.says))
    return (*sentences, *(wording["once"].format(places=at, says=joined(says, words)) for at, says in first.items()))


def _met_since(case: Case, profile: Profile, words: Words) -> Iterator[tuple[str, date]]:
    """What a place waited for on the day of the request and the record has since, in words, with the day of that: a
    bar of the setup record that the notes leave out is told with what lifts it."""
    if case.dates.written_on is None:
        return
    now = {(w.why, place) for w in waits_in(case, profile) for place in w.places}
    spaces = {space.name: space for space in case.spaces}
    for waiting in waits_in(known_on(case, case.dates.written_on), profile):
        for place in waiting.places:
            day = _day_met(case, waiting.why, spaces[place])
            if day is not None and (waiting.why, place) not in now:
                yield f"{place}: {words['done_first'][waiting.why].format(says=waiting.says)}", day


def _day_met(case: Case, why: str, space: Space) -> date | None:
    """The day on which what a place waited for was done; None where the record has none."""
    if why == "tried":
        return space.waits_done_on
    timed = [watched.reach_on for watched in case.supervision if space.id in watched.covers and watched.reach_on]
    return max(timed) if why == "timed" and timed else None


def _named(waiting: Waits, words: Words) -> str:
    return "" if waiting.alone else f"{joined(waiting.places, words)} "


def _latched(profile: Profile, is_held: bool) -> Literal["yes", "no"] | None:
    if profile.latched:
        return "yes"
    return "no" if profile.latched is False or is_held else None


def profiles_now(case: Case, words: Words) -> Iterator[dict[str, Any]]:
    """Each profile as it is set now, in the order of the case."""
    return (_in_force(case, profile, words) for profile in in_force(case))


def _in_force(case: Case, force: InForce, words: Words) -> dict[str, Any]:
    """A profile as it is set now, each change of it since delivery, and what lessons in its places ran into."""
    profile, met = force.profile, tuple(_met_since(case, force.profile, words))
    return _bumps(case, force) | {
        "name": profile.name,
        "speed_m_s": profile.speed_m_s,
        "turn_deg_s": profile.turn_deg_s,
        "used": profile.used,
        "waits": _waits(case, profile, words),
        "met_since": tuple(says for says, _ in met),
        "met_on": tuple(day for _, day in met),
        "why": profile.why,
        "changed_on": tuple(change.on for change in force.changes),
        "changed": tuple(change.says for change in force.changes),
        "unvalued": tuple(map(_is_unvalued, force.changes)),
        "_labels": {
            key: f"{label} of the {profile.name} profile{' now, see the change' if key in force.unsure else ''}"
            for key, label in (("speed_m_s", "speed"), ("turn_deg_s", "turn rate"))
        }
        | {"used": f"where the {profile.name} profile is used", "why": f"why the {profile.name} profile is set so"},
    }


def _bumps(case: Case, force: InForce) -> dict[str, Any]:
    """What lessons in the places of a profile ran into since its last change, or since delivery, and where."""
    places = {space.id: space.name for space in case.spaces if space.profile == force.profile.id}
    since = max((change.on for change in force.changes), default=case.dates.delivered_on)
    bumped = [
        row for row in case.sessions if row.task in places and row.contacts and (since is None or row.date >= since)
    ]
    bumped_in = dict.fromkeys(row.task for row in bumped)
    undecided = _not_released(case) & bumped_in.keys()
    return {
        "bumps_since": since if force.changes else "",
        "bumps": sum(row.contacts or 0 for row in bumped),
        "undecided": tuple(name for place, name in places.items() if place in undecided),
        "bumped_at": tuple(dict.fromkeys(places[place] for place in bumped_in)),
    }


def _not_released(case: Case) -> set[str]:
    """Ids of places in which the client may not drive alone yet, with what holds there before that."""
    return {
        place
        for watched in case.supervision
        if watched.for_now and watched.released is False
        for place in watched.covers
    }


def _is_unvalued(change: Changed) -> bool:
    """Whether what a setting was changed to is not told: as a value, or in words where no profile holds one."""
    in_words = change.setting not in VALUE_OF and any(map(str.isdecimal, change.says))
    return change.setting is not None and change.to is None and not in_words
