"""Follow-up visits as one sentence tells them: the first with what it looks at, the weeks of the rest."""

from __future__ import annotations

from typing import TypedDict

from docgen.case.model import Case
from docgen.documents.made_from import made_from
from docgen.documents.measures import Words, decimal

MADE_FROM = {"visits_planned": made_from("follow_up")}


class VisitsPlanned(TypedDict):
    """The visits planned after delivery.

    first_weeks   weeks from delivery to the first visit; 0 where none is planned
    what          what the first looks at; empty where none is planned
    again_weeks   weeks to each visit after it, as they print
    """

    first_weeks: float
    what: str
    again_weeks: tuple[str, ...]


def visits_planned(case: Case, words: Words) -> VisitsPlanned:
    """The follow-up of the case, in its order."""
    if not (visits := case.follow_up):
        return {"first_weeks": 0, "what": "", "again_weeks": ()}
    return {
        "first_weeks": visits[0].after_weeks,
        "what": visits[0].what,
        "again_weeks": tuple(decimal(f"{visit.after_weeks:g}", words) for visit in visits[1:]),
    }
