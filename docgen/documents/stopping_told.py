"""What the letter says of stopping: which of two release times the distances follow from, and what the chair must
take."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.criteria.moving_arm import Struck, arm_at_power
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words, number
from docgen.documents.places import tightest
from docgen.evidence.fact import Evidence
from docgen.rendering.template import Number

MADE_FROM = {
    "stopping": made_from("trial.methods", "configuration.profiles", "configuration.chair", "spaces"),
    "pressed": made_from("configuration.stop", "configuration.commands", "configuration.mounting", "findings"),
    "pressed_slower": made_from(
        "configuration.stop", "configuration.commands", "configuration.mounting", "trial.methods"
    ),
    "slower": made_from("trial.methods", "configuration.profiles", "spaces"),
}


_NAMES_A_SWITCH = re.compile(r"\b(?:switch|button|pad|box|key|lever|sensor|bar|plate|knob)\b", re.IGNORECASE)
_PLACED = frozenset(
    "above ahead at before behind below beneath beside between by in inside near next on over under".split()
)


class StoppingTold(TypedDict):
    """How stopping is told.

    signal           what ends a drive: letting go of it, or with a latch a signal of its own
    bound            whether the bound of the release times prints as another number than the slowest seen
    follows_from     which of the two the distances follow from; the slowest where both print alike, "" where neither is
                     recorded
    over_thresholds  whether the chair takes a threshold, or has one to take
    """

    signal: Literal["release", "stop_signal"]
    bound: bool
    follows_from: Literal["bound", "slowest", ""]
    over_thresholds: bool


def stopping_told(case: Case, evidence: Evidence, words: Words) -> StoppingTold:
    """What the record of the requested control tells of stopping."""
    bound, slowest = (
        number(fact, words) if (fact := evidence.of(name, case.configuration.method or "")) else None
        for name in ("release", "release_slowest")
    )
    differs = isinstance(bound, Number) and (not isinstance(slowest, Number) or bound.short != slowest.short)
    no_release = not isinstance(bound, Number) and not isinstance(slowest, Number)
    by_bound = differs and evidence.stopping.release.why == "bound"
    places = [there.space for there in evidence.stopping.places]
    return {
        "signal": "stop_signal" if case.configuration.is_latched else "release",
        "bound": differs,
        "follows_from": "" if no_release else "bound" if by_bound else "slowest",
        "over_thresholds": bool(case.configuration.chair.climbs_mm) or any(place.threshold_mm for place in places),
    }


class PressedRow(TypedDict):
    """A switch that was pressed in a moving chair more slowly than the trial was driven. Speed in m/s."""

    name: str
    m_s: float


class PressedTold(TypedDict):
    """Which switches were pressed to stop a moving chair.

    never   names of those of which no such press is recorded
    arm     whether an arm that moves by itself strikes the power switch: "open", "strikes", or "" where it does not
    """

    never: tuple[str, ...]
    arm: Struck


def pressed(case: Case, words: Words) -> PressedTold:
    """What the record tells of each switch that stops the chair, tried with the chair moving."""
    return {"never": tuple(name for name, m_s in _switches(case, words) if not m_s), "arm": arm_at_power(case)}


def pressed_slower(case: Case, words: Words) -> Iterator[PressedRow]:
    """Each switch that was pressed in a moving chair, and only below the fastest speed of the trial."""
    driven_m_s = fastest_driven_m_s(case)
    for name, m_s in _switches(case, words):
        if m_s and driven_m_s and m_s < driven_m_s:
            yield {"name": name, "m_s": m_s}


def _switches(case: Case, words: Words) -> Iterator[tuple[str, float | None]]:
    """Each switch that stops the chair, the driver's first, and the fastest speed in m/s at which it was pressed."""
    stop = case.configuration.stop
    if own := _drivers_switch(case):
        yield f"the {own}", stop.switch_pressed_m_s
    if stop.at_hand[0] and (stop.helpers_own or stop.stop_switch_by != "both"):
        yield words["pressed_switch"]["helper"], stop.helper_pressed_m_s
    if stop.power_for_helpers:
        yield words["pressed_switch"]["power"], stop.power_pressed_m_s


def _drivers_switch(case: Case) -> str:
    """The switch that the driver presses to stop, as its part is named; empty where no press of the driver stops it.

    Read out of what the driver does for a command: with a key for it, a case that leaves the key out would no longer
    name a switch that stopped no moving chair.
    """
    pressing = [c.input or "" for c in case.configuration.commands if c.does in ("stop", "rest", "external_device")]
    presses = [text for text in pressing if re.search(r"\bpress(?:es)?\b", text)]
    parts = [mount.part for mount in case.configuration.mounting if any(mount.part in text for text in presses)]
    if parts:
        return parts[0]
    own = re.sub(r"^(?:the|a|an) ", "", case.configuration.stop.drivers_own[0] or "").partition(";")[0].rstrip(" .")
    if not own or _NAMES_A_SWITCH.search(own):
        return own
    # where it is, which the key holds, is not what it is
    return f"switch {own}" if own.split()[0].casefold() in _PLACED else f"switch at the {own}"


class SlowerRow(TypedDict):
    """A profile that holds the chair below the speed of the trial where it drives. Speeds in m/s.

    places     names of the places at home, and of the tightest, that are driven in it
    driven_m_s fastest speed of the trial with the requested control
    chosen_by  who changes the profile, as the case says; "" where it does not
    """

    name: str
    places: tuple[str, ...]
    speed_m_s: float
    driven_m_s: float
    chosen_by: str


def slower(case: Case, evidence: Evidence) -> Iterator[SlowerRow]:
    """Each profile in which a place is driven more slowly than the trial was, in the order of the case."""
    driven_m_s = fastest_driven_m_s(case)
    if driven_m_s is None:
        return
    for profile in case.configuration.profiles:
        there = [place for place in evidence.stopping.places if place.profile is profile and not place.space.is_sloping]
        names = [place.space.name for place in there if place.space.at_home or place in tightest(evidence)]
        if not names or profile.speed_m_s is None or profile.speed_m_s >= driven_m_s:
            continue
        yield {
            "name": profile.name,
            "places": tuple(names),
            "speed_m_s": profile.speed_m_s,
            "driven_m_s": driven_m_s,
            "chosen_by": case.configuration.choose_by or "",
        }


def fastest_driven_m_s(case: Case) -> float | None:
    """Fastest speed in m/s of the trial with the requested control; None where none is recorded."""
    asked = case.requested_method
    if asked is None:
        return None
    speeds = [asked.speed_m_s, *(row.speed_m_s for row in case.tried if row.method == asked.id)]
    return max((speed for speed in speeds if speed is not None), default=None)
