"""What is done at a table, where the trial did not show that the chair can be parked at one."""

from __future__ import annotations

import re
from collections.abc import Sequence

from docgen.case.need import Activity
from docgen.case.tried import Task
from docgen.criteria.criterion import Grounds

# two of three attempts, as for a claim of safe driving: common practice, no source
LEAST_SHARE = 0.66
LEAST_ATTEMPTS = 3
_TABLE = re.compile(r"\b(?:table|desk)\b", re.IGNORECASE)


def at_tables_not_parked_at(grounds: Grounds) -> list[Activity]:
    """Activities at home that name a table or desk, where of at least three attempts to park at one with the requested
    control fewer than two of three were done."""
    case = grounds.case
    parks = [task for task in case.trial.tasks if task.shows == "place" and _TABLE.search(task.name)]
    if not done_too_seldom(grounds, parks):
        return []
    return [a for a in case.activities if a.at_home and _TABLE.search(a.name)]


def done_too_seldom(grounds: Grounds, tasks: Sequence[Task]) -> bool:
    """Whether of at least three attempts at one of these tasks with the requested control fewer than two of three were
    done."""
    method = grounds.case.configuration.method
    shares = [grounds.evidence.of("success", method, task.id) for task in tasks]
    return any(
        share is not None and (share.n or 0) >= LEAST_ATTEMPTS and (share.value or 0) < LEAST_SHARE for share in shares
    )
