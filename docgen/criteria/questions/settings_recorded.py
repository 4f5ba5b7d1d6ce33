"""Each drive profile has its settings and a reason for them.

Asks: Whether each profile has speed and turn rate, where it is used and why.
Why a payer asks: The supplier programs from it; programmable speed is part of what a special control must offer.
What settles it: speed_m_s, turn_deg_s, used and why in each [[configuration.profiles]].
Source: article A52504 (programmable speed, tremor damping, acceleration, braking of special controls).
"""

from __future__ import annotations

from docgen.case.asked import Profile
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.lacking import lacking
from docgen.criteria.sentences import counted, listed

HEADING = "order"
CLAIM = "Drive settings are recorded with their reason"
SETTINGS = {"keys": ["speed_m_s", "turn_deg_s", "used", "why"]}
CHOICES = {"keys": tuple(Profile.model_fields)}


def answer(grounds: Grounds, keys: list[str]) -> Answer:
    profiles = grounds.case.configuration.profiles
    if not profiles:
        return cannot_tell("No drive profile is recorded.", ("configuration", "profiles"), mend="Add [[configuration.profiles]] with speed_m_s, turn_deg_s, used and why.")
    if bare := lacking(profiles, keys):
        _, profile, missing = bare[0]
        return cannot_tell(f"The {profile.name} profile lacks {listed(missing)}.", *(("configuration", "profiles", i) for i, _, _ in bare),
                           mend=f"Fill in {listed(missing)}.")
    return met(f"{counted(len(profiles), 'profile has', 'profiles have')} settings with their reason.", ("configuration", "profiles"))
