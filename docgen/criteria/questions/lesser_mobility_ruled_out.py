"""A cane or walker, a manual chair and a scooter are each ruled out with a reason.

Asks: For each simpler way of moving about, whether the record says why it will not do for this client.
Why a payer asks: A power chair is paid for only when nothing simpler would do; a letter that skips one is sent back.
What settles it: One entry in [[alternatives]] for each, with what rules it out and a reason tied to this client, best
    with a measure.
Source: US national coverage determination 280.3, questions 5, 7 and 8.
"""

from __future__ import annotations

from typing import get_args

from docgen.case.tried import AlternativeKind
from docgen.criteria.criterion import Answer, Grounds, met
from docgen.criteria.ruled_out import kinds_lacking, not_ruled_out, nothing_recorded, of_kinds
from docgen.criteria.sentences import capital, listed

HEADING = "alternatives"
CLAIM = "A cane or walker, a manual chair and a scooter are ruled out"
NOT_FOR = ("control_only",)
SETTINGS = {"kinds": ["cane_or_walker", "manual_chair", "scooter"]}
CHOICES = {"kinds": get_args(AlternativeKind)}
_NAMES = {"cane_or_walker": "a cane or walker", "manual_chair": "a manual chair", "scooter": "a scooter"}


def answer(grounds: Grounds, kinds: list[str]) -> Answer:
    devices = of_kinds(grounds.case, kinds)
    if lacking := kinds_lacking(devices, kinds):
        names = listed(_NAMES.get(kind, kind.replace("_", " ")) for kind in lacking)
        return nothing_recorded(names, lacking[0])
    return not_ruled_out(devices) or met(
        f"{capital(listed(device.name for _, device in devices))} are each ruled out with a reason.",
        *(("alternatives", i, "reason") for i, _ in devices),
    )
