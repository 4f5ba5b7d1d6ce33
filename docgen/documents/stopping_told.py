"""What the letter says of stopping: which of two release times the distances follow from, and what the chair must
take."""

from __future__ import annotations

from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words, number
from docgen.evidence.fact import Evidence
from docgen.rendering.template import Number

MADE_FROM = {"stopping": made_from("trial.methods", "configuration.profiles", "configuration.chair", "spaces")}


class StoppingTold(TypedDict):
    """How stopping is told.

    signal           what ends a drive: letting go of it, or with a latch a signal of its own
    bound            whether the bound of the release times prints as another number than the slowest seen
    follows_from     which of the two the distances follow from; the slowest where both print alike, "" where neither is
                     recorded
    over_thresholds  whether the chair takes a threshold, or has one to take
    """

    signal: Literal["release", "stop_signal"]
    bound: bool
    follows_from: Literal["bound", "slowest", ""]
    over_thresholds: bool


def stopping_told(case: Case, evidence: Evidence, words: Words) -> StoppingTold:
    """What the record of the requested control tells of stopping."""
    bound, slowest = (
        number(fact, words) if (fact := evidence.of(name, case.configuration.method or "")) else None
        for name in ("release", "release_slowest")
    )
    differs = isinstance(bound, Number) and (not isinstance(slowest, Number) or bound.short != slowest.short)
    no_release = not isinstance(bound, Number) and not isinstance(slowest, Number)
    by_bound = differs and evidence.stopping.release.why == "bound"
    places = [there.space for there in evidence.stopping.places]
    return {
        "signal": "stop_signal" if case.configuration.is_latched else "release",
        "bound": differs,
        "follows_from": "" if no_release else "bound" if by_bound else "slowest",
        "over_thresholds": bool(case.configuration.chair.climbs_mm) or any(place.threshold_mm for place in places),
    }
