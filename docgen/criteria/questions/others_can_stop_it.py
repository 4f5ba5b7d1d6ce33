"""Anyone near can stop the chair.

Asks: Where the power switch is and what a helper can do, and where the stop switch is when forward is latched.
Why a payer asks: Safety of others; the caregiver's guide is built on it.
What settles it: power_off and helper (and stop_switch when latched) under [configuration.stop].
Source: US national coverage decision 280.3, question 4; article A52504, stop switch of latched controls (definition).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.sentences import listed

HEADING = "safety"
CLAIM = "Anyone near can stop the chair"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    configuration = grounds.case.configuration
    wanted = {"power_off": "where the power switch is", "helper": "what a helper can do", "driver": "how the driver stops it"}
    if configuration.is_latched:
        wanted["stop_switch"] = "where the stop switch is"
    missing = [key for key in wanted if not getattr(configuration.stop, key)]
    if missing:
        return cannot_tell(f"Not recorded: {listed(wanted[key] for key in missing)}.", ("configuration", "stop"),
                           mend=f"Fill in {listed(missing)} under [configuration.stop].")
    return met("How the driver, a helper and anyone at the power switch stop the chair is recorded.", ("configuration", "stop"))
