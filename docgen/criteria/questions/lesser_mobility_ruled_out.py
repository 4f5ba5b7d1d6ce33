"""A cane or walker, a manual chair and a scooter are each ruled out with a reason.

Asks: For each simpler way of moving about, whether the record says why it will not do for this client.
Why a payer asks: A power chair is paid for only when nothing simpler would do; a letter that skips one is sent back.
What settles it: One entry in [[alternatives]] for each, with what rules it out and a reason tied to this client, best with a measure.
Source: US national coverage decision 280.3, questions 5, 7 and 8.
"""

from __future__ import annotations

from typing import get_args

from docgen.case.tried import AlternativeKind
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import capital, listed

HEADING = "alternatives"
CLAIM = "A cane or walker, a manual chair and a scooter are ruled out"
SETTINGS = {"kinds": ["cane_or_walker", "manual_chair", "scooter"]}
CHOICES = {"kinds": get_args(AlternativeKind)}
_NAMES = {"cane_or_walker": "a cane or walker", "manual_chair": "a manual chair", "scooter": "a scooter"}


def answer(grounds: Grounds, kinds: list[str]) -> Answer:
    case = grounds.case
    found = [(i, a) for kind in kinds for i, a in enumerate(case.alternatives) if a.kind == kind]
    missing = [kind for kind in kinds if kind not in {a.kind for _, a in found}]
    if missing:
        names = listed(_NAMES.get(k, k.replace("_", " ")) for k in missing)
        return cannot_tell(
            f"Nothing is recorded about {names}.",
            ("alternatives",),
            mend=add_entry("alternatives", "ruled_out_by", "reason", kind=missing[0]),
        )
    kept = [(i, a) for i, a in found if a.ruled_out_by == "nothing"]
    if kept:
        return not_met(
            f"{capital(listed(a.name for _, a in kept))} is recorded as not ruled out.",
            *(("alternatives", i) for i, _ in kept),
            mend="If it will do, ask for it; if not, record why.",
        )
    bare = [(i, a) for i, a in found if not a.ruled_out_by or not a.reason]
    if bare:
        return cannot_tell(
            f"The record does not say why {listed(a.name for _, a in bare)} will not do.",
            *(("alternatives", i) for i, _ in bare),
            mend=fill_in({"ruled_out_by": "", "reason": "<one sentence about this client>"}, " in [[alternatives]]"),
        )
    return met(
        f"{capital(listed(a.name for _, a in found))} are each ruled out with a reason.",
        *(("alternatives", i, "reason") for i, _ in found),
    )
