"""Each drive profile has its settings and a reason for them.

Asks: Whether each profile has speed and turn rate, where it is used and why; where a payer says so, what the
    manufacturer lets a person program.
Why a payer asks: The supplier programs from it; programmable speed is part of what a special control must offer.
What settles it: speed_m_s, turn_deg_s, used and why in each [[configuration.profiles]]; where a payer names codes, only
    for a control with one of them; where it names settings, those in configuration.programmable.
Source: article A52504 (programmable speed, tremor dampening, acceleration, braking of special controls).
"""

from __future__ import annotations

from typing import get_args

from docgen.case.profile import Profile, Programmable
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.lacking import in_words, lacking
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.ordered import ITEMS, lines, no_codes
from docgen.criteria.sentences import counted, listed
from docgen.terms import terms

HEADING = "order"
CLAIM = "Drive settings are recorded with their reason"
SHOWN_IN = ("order: Programming Parameters",)
QUIET = True
SETTINGS = {"keys": ["speed_m_s", "turn_deg_s", "used", "why"], "codes": [], "programmable": []}
CHOICES = {"keys": tuple(Profile.model_fields), "programmable": get_args(Programmable)}


def answer(grounds: Grounds, keys: list[str], codes: list[str], programmable: list[str]) -> Answer:
    if codes:
        if nothing := no_codes(grounds.case):
            return nothing
        if not lines(grounds.case, codes):
            return does_not_apply("No control is requested whose settings the rule names.", ITEMS)
    profiles = grounds.case.configuration.profiles
    if not profiles:
        return cannot_tell(
            "No drive profile is recorded.",
            ("configuration", "profiles"),
            mend=add_entry("configuration.profiles", "speed_m_s", "turn_deg_s", "used", "why"),
        )
    if bare := lacking(profiles, keys):
        _, profile, missing = bare[0]
        return cannot_tell(
            f"Not recorded of the {profile.name} profile: {in_words(Profile, missing)}.",
            *(("configuration", "profiles", i) for i, _, _ in bare),
            mend=fill_in(dict.fromkeys(missing, ""), " of the profile"),
        )
    reason = f"{counted(len(profiles), 'profile has', 'profiles have')} settings with their reason"
    if unsaid := [name for name in programmable if name not in grounds.case.configuration.programmable]:
        return cannot_tell(
            f"{reason}; not recorded as programmable: {listed(map(_programmable_in_words, unsaid))}.",
            ("configuration",),
            mend=fill_in(
                {"configuration.programmable": ""},
                " with what can be programmed",
                lead="Look in the manufacturer's sheet, and fill in",
            ),
        )
    by_control = listed(map(_programmable_in_words, programmable))
    return met(
        f"{reason}{f'; {by_control} can be programmed' if programmable else ''}.",
        ("configuration", "profiles"),
    )


def _programmable_in_words(name: str) -> str:
    """What can be programmed, in the trade's term."""
    term = terms("labels").get(f"programmable.{name}")
    return term.term if term else name.replace("_", " ")
