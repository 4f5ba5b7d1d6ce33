"""Follow-up visits as one sentence tells them: the first with what it looks at, the weeks of the rest."""

from __future__ import annotations

from typing import TypedDict

from docgen.case.model import Case
from docgen.case.training import FollowUp
from docgen.documents.made_from import made_from
from docgen.documents.measures import Words, decimal

MADE_FROM = {"visits_planned": made_from("follow_up")}


class VisitsPlanned(TypedDict):
    """The visits planned after delivery.

    first_weeks   weeks from delivery to the first visit; 0 where none is planned
    what          what the first looks at; empty where none is planned
    first_latest  weeks by which the first is held where a span is planned; 0 where none is
    again_weeks   weeks to each visit after it, or the span of them, as they print
    repeated      how often each visit that repeats comes back, in words
    """

    first_weeks: float
    what: str
    first_latest: float
    again_weeks: tuple[str, ...]
    repeated: tuple[str, ...]


def visits_planned(case: Case, words: Words) -> VisitsPlanned:
    """The follow-up of the case, in its order."""
    if not (visits := case.follow_up):
        return {"first_weeks": 0, "what": "", "first_latest": 0, "again_weeks": (), "repeated": ()}
    return {
        "first_weeks": visits[0].after_weeks,
        "what": visits[0].what,
        "first_latest": visits[0].latest_weeks or 0,
        "again_weeks": tuple(_weeks(visit, words) for visit in visits[1:]),
        "repeated": tuple(phrase for visit in visits if (phrase := repeated(visit, words))),
    }


def repeated(visit: FollowUp, words: Words) -> str:
    """How often a visit comes back and until when; empty for one that is held once."""
    if visit.every_months is None:
        return ""
    patterns = words["repeated"]
    rhythm = patterns["every_one" if visit.every_months == 1 else "every"]
    until = "" if visit.for_months is None else patterns["until"]
    return str((rhythm + until).format(every=visit.every_months, months=visit.for_months))


def _weeks(visit: FollowUp, words: Words) -> str:
    first = decimal(f"{visit.after_weeks:g}", words)
    if visit.latest_weeks is None:
        return first
    return str(words["repeated"]["span"].format(first=first, last=decimal(f"{visit.latest_weeks:g}", words)))
