"""Screenings of which it is not known yet whether they found a deficit: neither one found nor none."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from docgen.case.need import Limit
from docgen.criteria.criterion import Answer, cannot_tell
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed


def undecided(limits: Sequence[Limit], kinds: Collection[str] = ()) -> Answer | None:
    """That of some screenings, of these kinds or of any, it is not recorded whether they found a deficit, or what they
    saw; None where it is."""
    asked = [(at, limit) for at, limit in enumerate(limits) if not kinds or limit.kind in kinds]
    waiting = [(at, limit) for at, limit in asked if limit.found is None]
    if not waiting:
        return _unseen([(at, limit) for at, limit in asked if not limit.says])
    names = listed(dict.fromkeys(limit.kind for _, limit in waiting))
    return cannot_tell(
        f"Whether a deficit was found is not recorded for {names}.",
        *(("limits", at) for at, _ in waiting),
        mend=fill_in({"found": "<true or false>"}, " in [[limits]]"),
    )


def _unseen(bare: Sequence[tuple[int, Limit]]) -> Answer | None:
    """That nothing is recorded of what these screenings saw; None where there are none."""
    if not bare:
        return None
    return cannot_tell(
        f"What was seen in the screening is not recorded for {listed(dict.fromkeys(limit.kind for _, limit in bare))}.",
        *(("limits", at) for at, _ in bare),
        mend=fill_in({"says": "<what was seen in the screening>"}, " in [[limits]]"),
    )
