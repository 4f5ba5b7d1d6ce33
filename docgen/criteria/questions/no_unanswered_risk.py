"""Nothing requested could hurt this client for want of an answer.

Asks: Whether a finding of this client makes a requested feature a risk of injury, whether the trial confirms it, and
    what mitigates it; and whether a feature goes without another that keeps it safe.
Why a payer asks: A feature that this body turns into a danger is denied, and hurts someone if it is not.
What settles it: Another feature; or answer = <what mitigates it>, with trial rows in which the risk does not show.
Source: common practice, no source; late release after effort: Seo et al. 2009, J Neurophysiol 101:3108 (abstract read;
    hands after stroke).
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from docgen.criteria.criterion import Answer, Grounds, not_met
from docgen.criteria.risks import at_odds, lacking, weighed

HEADING = "safety"
CLAIM = "No risk of injury is left unaddressed"
SHOWN_IN = ("letter: Recommended Equipment and Justification of Each Item",)
DANGER = True
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    return weighed(
        grounds,
        (*_latched(grounds), *lacking(grounds, safety=True), *at_odds(grounds, safety=True)),
        safety=True,
        none="No requested feature is made a risk of injury by a finding.",
        answered="What could make {features} a risk is answered in the record.",
    )


def _latched(grounds: Grounds) -> Iterator[Answer]:
    """Forward that latches without being asked for as a feature still needs its stop."""
    configuration, fit = grounds.case.configuration, grounds.fit
    if configuration.is_latched and not fit.has("latched_drive") and not fit.has("stop_switch"):
        risk = not_met(
            "Forward is latched and no stop switch is requested, so the chair would keep going.",
            ("configuration", "features"),
            mend="Add the feature stop_switch, or drive momentary.",
        )
        yield replace(risk, names=("latched forward without a stop switch",))
