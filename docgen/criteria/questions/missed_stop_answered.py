"""After a missed stop something was changed, and stops were asked for again.

Asks: Where a stop with the requested control was missed: what was changed since, and whether the stops asked for on
    later days were made.
Why a payer asks: A missed stop alone is a ground to deny; one whose cause was found, put right and tried again is not.
What settles it: after_miss under [trial], and rows of the stopping task on a later day.
Source: US national coverage determination 280.3, question 4 (safe operation); the retest is common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import k_of_n

HEADING = "safety"
CLAIM = "A missed stop was addressed and stops were retested"
SHOWN_IN = ("letter: Safety and Home Environment",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case, asked = grounds.case, grounds.case.configuration.method
    stops, missed = (grounds.evidence.of(name, asked) for name in ("stop_request", "stops_missed"))
    if stops is None:
        return cannot_tell(
            "No stop on command is recorded with the requested control.",
            ("trial", "rows"),
            mend="Add rows of the stopping task.",
        )
    if missed is None:
        return does_not_apply("No stop on command was missed with the requested control.", ("trial", "rows"))
    if case.trial.after_miss is None:
        return cannot_tell(
            "What was changed after a stop was missed is not recorded.",
            ("trial", "after_miss"),
            facts=(missed.id,),
            mend=fill_in({"trial.after_miss": "<what was changed>"}),
        )
    since = grounds.evidence.of("stops_since", asked)
    if since is None:
        return not_met(
            "No stop was asked for on a later day than the one that was missed.",
            ("trial", "rows"),
            facts=(missed.id,),
            mend="Repeat the stops with what was changed, and add the rows.",
        )
    return met(
        f"{case.trial.after_miss.rstrip('. ')}. On days after the miss {k_of_n(since)} stops on command were made.",
        ("trial", "after_miss"),
        facts=(missed.id, since.id),
    )
