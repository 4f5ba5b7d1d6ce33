"""Drive profiles as the order sets them: what a control without a way back leaves out, and whether each keeps going."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.case.profile import Profile
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words
from docgen.documents.stages import stage_name, step_aim

MADE_FROM = {"profiles": made_from("configuration.profiles"), "profile_steps": made_from("configuration.profiles")}

_LABELS = {name: field.description or name for name, field in Profile.model_fields.items()} | {
    "latched": "whether this setting keeps going"
}


class ProfileRow(TypedDict):
    """One profile. Speeds in m/s, the turn rate in degrees/s, times in s.

    backs          whether a reverse speed can be set at all
    latched        whether forward keeps going after the signal; None where neither the profile nor the control tells
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


def profiles(case: Case) -> Iterator[ProfileRow]:
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
            "why": profile.why,
            "_labels": _LABELS,
        }


def _latched(profile: Profile, is_held: bool) -> Literal["yes", "no"] | None:
    if profile.latched:
        return "yes"
    return "no" if profile.latched is False or is_held else None
