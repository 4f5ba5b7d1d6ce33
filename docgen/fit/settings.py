"""Drive settings to begin from: computed where the evidence allows, else the way the trade moves them for what was
seen.

Nothing here is a setting to apply. Each is a place to begin for a qualified person, who verifies it on the chair.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Literal

from msgspec import Struct
from pydantic import BaseModel, ConfigDict, Field

from docgen.case.model import Case
from docgen.case.profile import Profile
from docgen.evidence.fact import Evidence, Fact
from docgen.fit.feature import features
from docgen.fit.match import driving_sites, set_aside, site_of
from docgen.fit.signs import Sign, signs
from docgen.fit.springs_back import SETTINGS_OF_OTHERS, springs_back
from docgen.shipped import tables_of

VERIFY = "Verify on the chair, by a qualified person."


class Move(BaseModel):
    """Which way a setting is moved for a finding or a sign of the trial, and why.

    yields   whether it waits while another reason for this setting stands: the safe direction comes first
    follows  whether it only answers what the move of another setting brings: what was seen is a reason for that other
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    signs: tuple[str, ...] = Field(min_length=1)
    move: str = Field(min_length=1)
    because: str = Field(min_length=1)
    yields: bool = False
    follows: bool = False


class DriveSetting(BaseModel):
    """A setting of the electronics in the trade's terms. `usual` ranges are from memory and never applied.

    always  whether every control has it, and not only one with a feature that touches it
    passes  on which side of the value a measurement passes: at it or less, at it or more; as it stands when empty
    of_control  whether the control has it, and not the controller
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    name: str = Field(min_length=1)
    unit: str = ""
    always: bool = False
    of_control: bool = False
    passes: Literal["less", "more", ""] = ""
    does: str = Field(min_length=1)
    watch: str = Field(min_length=1)
    usual: Mapping[str, tuple[float, float]] = {}
    moves: tuple[Move, ...] = ()


class Computed(Struct, frozen=True):
    """A value worked out for one profile: the largest the evidence bears; `recorded` is the case's own."""

    profile: Profile
    setting: str
    name: str
    value: float
    unit: str
    recorded: float | None
    fact: Fact
    reason: str

    @property
    def over(self) -> bool:
        """Whether the case's own value is above what the evidence bears."""
        return self.recorded is not None and self.recorded > self.value


Reasons = tuple[tuple[Move, tuple[str, ...]], ...]  # the move, and the findings and signs in words


class Moved(Struct, frozen=True):
    """A setting to look at, with the reasons seen in this client.

    first   what to do first; the safe direction where the reasons pull different ways
    then    what waits until the first is settled on the chair
    """

    setting: DriveSetting
    first: Reasons
    then: Reasons
    facts: tuple[Fact, ...] = ()

    @property
    def reasons(self) -> Reasons:
        """All of them."""
        return (*self.first, *self.then)

    @property
    def move(self) -> str:
        """The way of the first reasons, or the ways they pull."""
        return ways(self.first)


def ways(reasons: Reasons) -> str:
    """The ways that reasons pull; one that another says with a condition is left to that other."""
    moves = list(dict.fromkeys(move.move for move, _ in reasons))
    return " or ".join(move for move in moves if not any(other != move and other.startswith(move) for other in moves))


@cache
def drive_settings() -> dict[str, DriveSetting]:
    """Every setting by id, in the order they are looked at."""
    text = (Path(__file__).parent / "settings.toml").read_text(encoding="utf-8")
    return {name: DriveSetting(**table) for name, table in tables_of(text).items()}


def computed(case: Case, evidence: Evidence) -> tuple[Computed, ...]:
    """Speed and turn rate of each profile, where the evidence gives one."""
    return tuple(value for profile in case.configuration.profiles for value in _of_profile(case, evidence, profile))


def _of_profile(case: Case, evidence: Evidence, profile: Profile) -> Iterator[Computed]:
    known = drive_settings()
    bound = [
        (there.fastest_m_s, fact, there.space)
        for there in evidence.stopping.places
        if there.space.profile == profile.id and there.fastest_m_s is not None
        if (fact := evidence.of("safe_speed", there.space.id)) is not None
    ]
    if bound:
        fastest_m_s, fact, space = min(bound, key=lambda place: place[0])
        yield Computed(
            profile,
            "forward_speed",
            known["forward_speed"].name,
            fastest_m_s,
            "m/s",
            profile.speed_m_s,
            fact,
            f"the most that stops inside the {space.name}",
        )
        if case.configuration.backs is not False:
            yield Computed(
                profile,
                "reverse_speed",
                known["reverse_speed"].name,
                fastest_m_s / 2,
                "m/s",
                profile.reverse_m_s,
                fact,
                "half of forward, where the driver sees least (common practice, no source)",
            )
    doors = [
        (fact.value, fact, space)
        for space in case.spaces
        if space.kind == "doorway" and space.profile == profile.id
        if (fact := evidence.of("turn_rate", space.id)) and fact.value is not None
    ]
    if doors:
        turn_rate, fact, space = min(doors, key=lambda door: door[0])
        yield Computed(
            profile,
            "turn_speed",
            known["turn_speed"].name,
            turn_rate,
            "degrees/s",
            profile.turn_deg_s,
            fact,
            f"one shortest touch turns the chair no further than the {space.name} forgives",
        )


def slowest(case: Case) -> Profile | None:
    """The profile with the least forward speed; None where a profile has no speed recorded, for it may be that one, and
    where there is but one, which is slower than none."""
    profiles = case.configuration.profiles
    speeds = [(profile.speed_m_s, profile) for profile in profiles if profile.speed_m_s is not None]
    if len(profiles) < 2 or len(speeds) < len(profiles):
        return None
    return min(speeds, key=lambda speed: speed[0])[1]


def moved(case: Case, evidence: Evidence, given: Mapping[str, Sign] | None = None) -> tuple[Moved, ...]:
    """Settings that a finding or a sign bears on, in their order; signs of the trial with the requested control, unless
    `given` names others.

    A finding about a site that does not drive moves nothing, nor one that was seen with an alternative. A setting that
    only features not asked for would touch is left out, such as the latch of a control without one; so is the reverse
    speed of a control that cannot back up, and what the order says is not used.
    """
    sites = driving_sites(features()[wanted.id] for wanted in case.configuration.features)
    aside = set_aside(case)
    findings = {
        finding.id: finding.says
        for finding in case.findings
        if site_of(finding.id) in (None, *sites) and finding.id not in aside and finding.seen_with is None
    }
    unused = _unused(case)
    looked = signs(case, evidence, case.configuration.method) if given is None else given
    seen = {name: sign for name, sign in looked.items() if sign.seen}
    elsewhere = of_other_features(case)
    return tuple(
        change
        for name, setting in drive_settings().items()
        if name not in unused
        and (setting.always or name not in elsewhere)
        and (change := _moved(setting, findings, seen)) is not None
    )


def _unused(case: Case) -> set[str]:
    """Settings without use on this control: by the order, for want of a reverse, for want of a latch."""
    unused = {entry.setting for entry in case.configuration.settings if entry.is_unused}
    if case.configuration.backs is False:
        unused.add("reverse_speed")
    asked = case.configuration  # what a profile does not say of itself, the whole control says of it
    latches = [asked.latched if p.latched is None else p.latched for p in asked.profiles] or [asked.latched]
    if springs_back(asked):
        unused |= SETTINGS_OF_OTHERS - {entry.setting for entry in asked.settings}
    if not asked.is_latched and all(latched is False for latched in latches):  # nothing to end
        unused.add("latch_timeout")
    return unused


def of_other_features(case: Case) -> set[str]:
    """Settings that only features not asked for would touch; none where no feature is asked for yet."""
    asked = {wanted.id for wanted in case.configuration.features}
    if not asked:
        return set()
    known = features().values()
    touched = set[str]().union(*(feature.settings for feature in known if feature.id in asked))
    return set[str]().union(*(feature.settings for feature in known)) - touched


def _moved(setting: DriveSetting, findings: Mapping[str, str], seen: Mapping[str, Sign]) -> Moved | None:
    reasons = tuple(
        (move, tuple(_words(name, seen, findings) for name in move.signs if name in seen or name in findings))
        for move in setting.moves
    )
    reasons = tuple((move, whys) for move, whys in reasons if whys)
    if not reasons:
        return None
    first = tuple(reason for reason in reasons if not reason[0].yields) or reasons
    facts = {fact.id: fact for move, _ in reasons for name in move.signs if name in seen for fact in seen[name].facts}
    return Moved(setting, first, tuple(reason for reason in reasons if reason not in first), tuple(facts.values()))


def _words(name: str, seen: Mapping[str, Sign], findings: Mapping[str, str]) -> str:
    """A sign with its number, or what the case says of a finding."""
    return seen[name].in_words if name in seen else findings[name].rstrip(". ")
