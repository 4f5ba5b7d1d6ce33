"""The payer's own rules were reviewed.

Asks: Which state or plan rules were looked up, and how an item that is on no list is requested.
Why a payer asks: Local policy overrides what is published for all.
What settles it: local_rules, local_rules_say and route under [request].
Source: common practice, no source; for lists of items 42 CFR 440.70(b)(3)(v) from memory.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "The payer's own rules were reviewed"
SETTINGS = {"keys": ["local_rules", "local_rules_say"]}
CHOICES = {"keys": ("local_rules", "local_rules_say", "route")}


def answer(grounds: Grounds, keys: list[str]) -> Answer:
    request = grounds.case.request
    missing = [key for key in keys if getattr(request, key) is None]
    if missing:
        return cannot_tell(
            f"Not recorded: {listed(_WORDS[key] for key in missing)}.",
            *(("request", key) for key in missing),
            mend=fill_in({f"request.{key}": f"<{_WORDS[key]}>" for key in missing}),
        )
    return met(f"Recorded: {listed(_WORDS[key] for key in keys)}.", *(("request", key) for key in keys))


_WORDS = {
    "local_rules": "the rules that were reviewed, with their date",
    "local_rules_say": "what these rules say of such a control, word for word, or that they say nothing of it",
    "route": "the way to ask for an item that is on no list",
}
