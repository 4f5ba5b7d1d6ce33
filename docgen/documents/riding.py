"""What the guide says of a ride in the chair: that it may be, or what is not known or rules it out."""

from __future__ import annotations

from typing import TypedDict

from docgen.case.model import Case
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words
from docgen.fit.ride import against, may_ride, unknown

MADE_FROM = {"ride": made_from("transport")}


class Ride(TypedDict):
    """may     whether the client may ride seated in the chair, by all that is recorded
    against    what speaks against it, in words
    unknown    what nobody has told, in words
    """

    may: bool
    against: tuple[str, ...]
    unknown: tuple[str, ...]


def ride(case: Case, words: Words) -> Ride:
    """What is known of a ride in the chair."""
    lacking, open_points = against(case.transport), unknown(case.transport)
    return {
        "may": may_ride(case.transport),
        "against": tuple(words["ride_lacks"][key] for key in lacking),
        "unknown": tuple(words["ride_unknown"][key] for key in open_points),
    }
