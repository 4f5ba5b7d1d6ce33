"""Each limit that was found is made up for.

Asks: For each limit found, what improves it or makes up for it.
Why a payer asks: A limit is no bar when it can be compensated enough for the equipment to help; that has to be shown.
What settles it: answer = <what mitigates it> in each entry of [[limits]] with found = true.
Source: US national coverage determination 280.3, question 3.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.screened import undecided
from docgen.criteria.sentences import capital, listed

HEADING = "safety"
CLAIM = "Each limitation found is compensated for"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    limits = grounds.case.limits
    if not limits:
        return cannot_tell(
            "No screening for deficits is recorded.", ("limits",), mend=add_entry("limits", "kind", "found", "says")
        )
    present = [(i, limit) for i, limit in enumerate(limits) if limit.found]
    if not present and (unknown := undecided(limits)):
        return unknown
    if not present:
        return does_not_apply("The screening found no limit.", ("limits",))
    bare = [(i, limit) for i, limit in present if not limit.answer]
    if bare:
        return cannot_tell(
            f"What makes up for {listed(limit.kind for _, limit in bare)} is not recorded.",
            *(("limits", i) for i, _ in bare),
            mend=fill_in({"answer": "<what mitigates it>"}, " in [[limits]]"),
        )
    return met(
        f"{capital(listed(limit.kind for _, limit in present))}: found, and what mitigates it is recorded.",
        *(("limits", i, "answer") for i, _ in present),
    )
