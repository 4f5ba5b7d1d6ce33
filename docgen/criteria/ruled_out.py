"""Whether simpler devices of the record are ruled out with a reason: what every question of that kind asks of them."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.case.model import Case
from docgen.case.tried import Alternative
from docgen.criteria.criterion import Answer, cannot_tell, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import capital, listed

Placed = tuple[int, Alternative]


def of_kinds(case: Case, kinds: Sequence[str]) -> list[Placed]:
    """The devices of these kinds with their places, kind by kind."""
    return [(i, device) for kind in kinds for i, device in enumerate(case.alternatives) if device.kind == kind]


def kinds_lacking(devices: Sequence[Placed], kinds: Sequence[str]) -> list[str]:
    """The kinds of which no device is recorded."""
    recorded = {device.kind for _, device in devices}
    return [kind for kind in kinds if kind not in recorded]


def nothing_recorded(about: str, kind: str) -> Answer:
    """Cannot be told, where a kind of device is not recorded."""
    return cannot_tell(
        f"Nothing is recorded about {about}.",
        ("alternatives",),
        mend=add_entry("alternatives", "ruled_out_by", "reason", kind=kind),
    )


def not_ruled_out(devices: Sequence[Placed]) -> Answer | None:
    """Not met where a device is recorded as not ruled out, cannot be told where a ground is missing; else None."""
    if kept := [(i, device) for i, device in devices if device.ruled_out_by == "nothing"]:
        return not_met(
            f"{capital(listed(device.name for _, device in kept))} is recorded as not ruled out.",
            *(("alternatives", i) for i, _ in kept),
            mend="If it will do, ask for it; if not, record why.",
        )
    if bare := [(i, device) for i, device in devices if not device.ruled_out_by or not device.reason]:
        return cannot_tell(
            f"The record does not say why {listed(device.name for _, device in bare)} will not do.",
            *(("alternatives", i) for i, _ in bare),
            mend=fill_in({"ruled_out_by": "", "reason": "<one sentence about this client>"}, " in [[alternatives]]"),
        )
    return None
