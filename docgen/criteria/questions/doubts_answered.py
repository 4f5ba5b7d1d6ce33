"""What else is a contraindication to a requested feature is answered.

Asks: Whether a finding is a contraindication to a requested feature, short of a risk of injury, or a feature goes
    without another that makes it work, and what mitigates it.
Why a payer asks: A device that this body or this household works against is paid for and then not used.
What settles it: Another feature, or answer = <what mitigates it>.
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, met
from docgen.criteria.risks import at_odds, lacking, nothing_to_compare, worst
from docgen.criteria.sentences import listed

HEADING = "safety"
CLAIM = "Other concerns about a feature are addressed"
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case, fit = grounds.case, grounds.fit
    if not case.configuration.features or not case.findings:
        return nothing_to_compare()
    if doubt := worst((*lacking(grounds, safety=False), *at_odds(grounds, safety=False))):
        return doubt
    answered = [c.feature.name for c in fit.chosen if any(not no.safety for no in c.at_odds)]
    return met(
        "No finding is a contraindication to a requested feature."
        if not answered
        else f"The contraindication to {listed(answered)} is answered in the record.",
        ("configuration", "features"),
    )
