"""What else is a contraindication to a requested feature is answered.

Asks: Whether a finding is a contraindication to a requested feature, short of a risk of injury, or a feature goes
    without another that makes it work, and what mitigates it.
Why a payer asks: A device that this body or this household works against is paid for and then not used.
What settles it: Another feature, or answer = <what mitigates it>.
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds
from docgen.criteria.risks import at_odds, lacking, weighed

HEADING = "safety"
CLAIM = "Other concerns about a feature are addressed"
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    return weighed(
        grounds,
        (*lacking(grounds, safety=False), *at_odds(grounds, safety=False)),
        safety=False,
        none="No finding is a contraindication to a requested feature.",
        answered="The contraindication to {features} is answered in the record.",
    )
