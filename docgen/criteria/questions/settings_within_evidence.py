"""No drive setting goes beyond what the trial bears.

Asks: Whether the speed, the reverse speed or the turn rate of a profile is above what stops inside its spaces or passes
    its doors.
Why a payer asks: A chair that is set faster than its driver can stop or steer is not safe for the driver or for others.
What settles it: A lower setting in the profile, or the one that is not recorded there; or trial rows with a quicker
    release or a shorter touch.
Source: stopping distance and heading change are worked out (docgen evidence); reverse at half of forward is common
    practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend, NewEntry, fill_in
from docgen.criteria.risks import release_keys
from docgen.criteria.sentences import counted, listed
from docgen.fit.settings import VERIFY, Computed, computed
from docgen.units import decimals, speed

HEADING = "safety"
CLAIM = "No setting exceeds what the trial supports"
SHOWN_IN = (
    "order: Programming Parameters",
    "letter: Safety and Home Environment",
)
QUIET = True
SETTINGS: dict[str, object] = {}

_KEYS = {"forward_speed": "speed_m_s", "reverse_speed": "reverse_m_s", "turn_speed": "turn_deg_s"}


def answer(grounds: Grounds) -> Answer:
    profiles = {profile.id: index for index, profile in enumerate(grounds.case.configuration.profiles)}
    known = computed(grounds.case, grounds.evidence)
    if not known:
        return cannot_tell(
            (
                "No setting can be worked out: it takes release times, the chair's delay and deceleration, and "
                "spaces with their profile."
            ),
            ("configuration", "profiles"),
            mend=Mend(
                f"Record {release_keys(grounds.case)}, clear_ahead_mm and profile of each space, and "
                "electronics_delay_s and deceleration_m_s2 of the chair.",
                add=() if profiles else (NewEntry("configuration.profiles"),),
            ),
        )
    if over := [setting for setting in known if setting.over]:
        says = (
            (
                f"{setting.name} of the {setting.profile.name} profile is "
                f"{_shown(recorded(setting.recorded), setting.unit)}, and the trial supports "
                f"{_shown(setting.value, setting.unit)}: {setting.reason}"
            )
            for setting in over
        )
        return not_met(
            f"The {listed(says)}. {VERIFY}",
            *(("configuration", "profiles", profiles[setting.profile.id]) for setting in over),
            facts=tuple(dict.fromkeys(setting.fact.id for setting in over)),
            mend="Lower the setting, or show in the trial that more is safe.",
        )
    silent = [setting for setting in known if setting.recorded is None]
    if asked := [
        setting for setting in silent if setting.setting != "reverse_speed" or grounds.case.configuration.backs
    ]:
        return _not_set(asked, profiles)
    known = tuple(setting for setting in known if setting not in silent)
    unheld = _held_against_no_place(grounds.case, known)
    open_ = f" No place is recorded for what drives faster than these: {listed(unheld)}." if unheld else ""
    return met(
        (
            f"{counted(len(known), 'setting that can be worked out is', 'settings that can be worked out are')} "
            f"at or below what the trial supports.{open_} {VERIFY}"
        ),
        ("configuration", "profiles"),
        facts=tuple(dict.fromkeys(setting.fact.id for setting in known)),
        limit="in_part" if open_ else "",
    )


def _not_set(asked: Sequence[Computed], profiles: Mapping[str, int]) -> Answer:
    """Cannot be told of the settings that the trial bounds and the request does not record."""
    keys = dict.fromkeys(_KEYS[setting.setting] for setting in asked)
    each = (
        f"{setting.name} of the {setting.profile.name} profile (the trial supports at most "
        f"{_shown(setting.value, setting.unit)})"
        for setting in asked
    )
    return cannot_tell(
        f"Not recorded: the {listed(each)}.",
        *dict.fromkeys(("configuration", "profiles", profiles[setting.profile.id]) for setting in asked),
        facts=tuple(dict.fromkeys(setting.fact.id for setting in asked)),
        mend=fill_in(dict.fromkeys(keys, ""), " of the profile"),
    )


def _held_against_no_place(case: Case, known: Sequence[Computed]) -> list[str]:
    """Names of the profiles faster than any speed that was held against a place, of which no speed is worked out."""
    limits = {limit.profile.id: limit.value for limit in known if limit.unit == "m/s"}
    return [
        profile.name
        for profile in case.configuration.profiles
        if profile.speed_m_s and profile.id not in limits and profile.speed_m_s > max(limits.values(), default=0)
    ]


def _shown(value: float, unit: str) -> str:
    """A setting as a limit: never more than it is."""
    return speed(value) if unit == "m/s" else f"{float(decimals(value, 2, 'down')):g} {unit}"
