"""At the speed of each profile the chair stops inside the space there is.

Asks: Whether the stopping distance at each profile's speed is shorter than the clear space ahead, in every place where that profile is used.
Why a payer asks: Safe use in the places of daily life, shown in plain numbers.
What settles it: release_s in the rows, delay and deceleration of the chair, speed of each profile, and clear_ahead_mm of each space.
Source: US national coverage decision 280.3, questions 4 and 6; the sum is uniform deceleration after a delay.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, NewEntry, add_entry, fill_in
from docgen.criteria.sentences import listed

HEADING = "safety"
CLAIM = "The chair stops inside the space there is"
DANGER = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case, evidence = grounds.case, grounds.evidence
    profiles = {profile.id: profile for profile in case.configuration.profiles}
    if not profiles:
        return cannot_tell(
            "No drive profile is recorded.",
            ("configuration", "profiles"),
            mend=add_entry("configuration.profiles", "id", "name", "speed_m_s"),
        )
    measured = [(i, s) for i, s in enumerate(case.spaces) if s.clear_ahead_mm is not None]
    if unplaced := [(i, s) for i, s in measured if not s.profile]:
        return cannot_tell(
            f"Which profile is used in the {listed(s.name for _, s in unplaced)} is not recorded.",
            *(("spaces", i) for i, _ in unplaced),
            mend=fill_in({"profile": "<id of a profile>"}),
        )
    sloping = [s.name for _, s in measured if s.slope_percent]  # the sum is for level ground
    pairs = [(i, s, evidence.of("stopping", s.profile)) for i, s in measured if not s.slope_percent]
    if not pairs:
        return cannot_tell(
            "No level space to stop in is recorded with its profile.",
            ("spaces",),
            mend=fill_in({"clear_ahead_mm": "<mm>", "profile": "<id>"}, " of each space"),
        )
    unknown = [(i, s, f) for i, s, f in pairs if f is None or f.value is None]
    if unknown:
        index, space, fact = unknown[0]
        lacks = fact.note if fact else "the profile"
        return cannot_tell(
            f"The stopping distance in the {space.name} cannot be worked out: {lacks} not recorded.",
            ("configuration", "chair"),
            ("spaces", index),
            mend=f"Record: {lacks}.",
        )
    over = [(i, s, f) for i, s, f in pairs if f.value * 1000 > s.clear_ahead_mm]
    if over:
        index, space, fact = over[0]
        safe = evidence.of("safe_speed", space.id)
        slower = (
            f" The fastest speed that stops there is {safe.value:.2f} m/s." if safe and safe.value is not None else ""
        )
        return not_met(
            f"In the {space.name} the chair stops in {fact.value:.2f} m and has {space.clear_ahead_mm / 1000:.2f} m.{slower}",
            ("spaces", index),
            ("configuration", "profiles"),
            facts=(fact.id,),
            mend=f"Lower the speed of the {profiles[space.profile].name} profile, or give this space a slower one.",
        )
    placed = {s.profile for _, s in measured}
    fastest_m_s = max(profiles[s.profile].speed_m_s or 0 for _, s, _ in pairs)
    if faster := [
        (i, p)
        for i, p in enumerate(case.configuration.profiles)
        if p.id not in placed and (p.speed_m_s or 0) > fastest_m_s
    ]:
        return cannot_tell(
            f"No space to stop in is recorded for the faster {listed(p.name for _, p in faster)} profile.",
            ("spaces",),
            *(("configuration", "profiles", i) for i, _ in faster),
            mend=Mend(
                f'Add a space with clear_ahead_mm <mm> and profile = "{faster[0][1].id}".',
                add=(NewEntry("spaces", ("clear_ahead_mm",), (("profile", f'"{faster[0][1].id}"'),)),),
            ),
        )
    but = f" On the slope of the {listed(sloping)} the distance is not worked out." if sloping else ""
    index, space, fact = min(pairs, key=lambda pair: pair[1].clear_ahead_mm - pair[2].value * 1000)
    return met(
        f"The least room is in the {space.name}: the chair stops in {fact.value:.2f} m and has {space.clear_ahead_mm / 1000:.2f} m.{but}",
        ("spaces", index),
        facts=tuple(dict.fromkeys(f.id for _, _, f in pairs)),
    )
