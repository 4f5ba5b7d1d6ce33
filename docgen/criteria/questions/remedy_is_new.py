"""What was changed after a missed stop was not so before it.

Asks: Whether the record says that something was done from then on (dry, muted, clean, off, tight), and elsewhere that
    it was so on all days of the trial.
Why a payer asks: If the shoe was dry when the foot slid, drying it is no remedy, and the cause is still there.
What settles it: after_miss under [trial], with what was changed; or the sentence that has it so on all days.
Source: article A55426 and US Program Integrity Manual 5.9: what a letter claims is in the record; which words tell of
    a state is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import statements_of

HEADING = "record"
CLAIM = "What was changed after a missed stop was not so before"
SHOWN_IN = ("letter: Safety and Home Environment", "letter: Equipment Trial and Results")
SETTINGS: dict[str, object] = {}

_STATE = re.compile(r"\b(dry|muted|clean|off|tight|firm|closed|locked|warm|quiet|charged|padded)\b", re.IGNORECASE)
_ALWAYS = re.compile(
    r"\b(on all days|on each day|every day|throughout|all along|in every (?:attempt|row)|always)\b", re.I
)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    missed = grounds.evidence.of("stops_missed", case.configuration.method)
    at: KeyPath = ("trial", "after_miss")
    if grounds.evidence.of("stop_request", case.configuration.method) is None:
        shown = {task.id: task.shows for task in case.trial.tasks}
        tasks = {row.task for row in case.tried if row.method == case.configuration.method and row.task}
        if tasks and all(shown.get(task, "other") != "other" for task in tasks):  # other: what it shows is not said
            return does_not_apply("No stop on command is recorded, so none was missed.", ("trial", "rows"))
        return cannot_tell(
            "No stop on command is recorded with the requested control.",
            ("trial", "rows"),
            mend='Mark the stopping task with shows = "stop", and add its rows.',
        )
    if not missed or not missed.n:
        return does_not_apply("No stop was missed with the requested control.", ("trial", "rows"))
    if case.trial.after_miss is None:
        return cannot_tell(
            "What was changed after the missed stop is not recorded.",
            at,
            mend=fill_in({"trial.after_miss": "<what was changed>"}),
        )
    before = next(_so_before(case), None)
    if before is not None:
        where, sentence = before
        return not_met(
            f"After the missed stop the record changes this: “{case.trial.after_miss.rstrip('. ')}”. It was so before: "
            f"“{sentence}”.",
            at,
            where,
            mend="Write what was changed that was not so before, or mend the other sentence.",
            danger=True,
        )
    return met("What was changed after the missed stop is not said to have been so before.", at)


def _so_before(case: Case) -> Iterator[tuple[KeyPath, str]]:
    """Sentences that have on all days what was changed only after the miss, and where they stand."""
    changed = {state.casefold() for state in _STATE.findall(case.trial.after_miss or "")}
    for key in ("limits", "seating", "chair"):
        for sentence in statements_of(getattr(case.trial, key)):
            if _ALWAYS.search(sentence) and changed & {state.casefold() for state in _STATE.findall(sentence)}:
                yield ("trial", key), sentence.rstrip(".; ")
