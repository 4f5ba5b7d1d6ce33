"""Screenings of which it is not known yet whether they found a deficit: neither one found nor none."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from docgen.case.need import Limit
from docgen.criteria.criterion import Answer, cannot_tell
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed


def undecided(limits: Sequence[Limit], kinds: Collection[str] = ()) -> Answer | None:
    """That of some screenings, of these kinds or of any, it is not recorded whether they found a deficit; None where it
    is."""
    waiting = [
        (at, limit) for at, limit in enumerate(limits) if limit.found is None and (not kinds or limit.kind in kinds)
    ]
    if not waiting:
        return None
    names = listed(dict.fromkeys(limit.kind for _, limit in waiting))
    return cannot_tell(
        f"Whether a deficit was found is not recorded for {names}.",
        *(("limits", at) for at, _ in waiting),
        mend=fill_in({"found": "<true or false>"}, " in [[limits]]"),
    )
