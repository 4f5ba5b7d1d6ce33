"""An activity done alone after setup needs no hand again, by its own words and by the rows of the trial.

Asks: Whether an activity at home that is claimed to be done alone, or alone after setup, tells of help that comes again
    in the course of it; whether the rows of the requested control, or of the same device set otherwise, note that the
    control was lost and set again by someone.
Why a payer asks: The fall in the level of help is the gain that a reviewer counts; help that comes back after
    each spasm is assistance by hand, and rows that show it take the level away.
What settles it: with_device = "hands_on" with both counts in left, or rows in which nobody set the control again.
Source: setup assistance and independence as a therapist writes them, from memory; which words tell of help that comes
    again is common use, no source.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from docgen.case.model import Case
from docgen.case.need import Activity
from docgen.case.totals import Tried
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import counted, listed
from docgen.evidence.blocks import lines

HEADING = "record"
CLAIM = "What is done alone after setup needs no hand again"
SHOWN_IN = ("letter: Mobility Limitation and MRADLs in the Home",)
QUIET = True
SETTINGS: dict[str, object] = {}

_AGAIN = re.compile(r"\b(?:again|each time|every time|whenever|after (?:a|an|each|every)\b)", re.IGNORECASE)
_SET_AGAIN = re.compile(
    r"\b(?:set|put|placed|brought|moved) (?:it )?(?:again|back)\b|\bre-?(?:set|placed)\b", re.IGNORECASE
)
_MEND = fill_in(
    {"with_device": '"hands_on"'}, ", and tell in left how often it was set again, in the trial and apart from it"
)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    alone = [(at, a) for at, a in enumerate(case.activities) if a.at_home and a.with_device in ("set_up", "alone")]
    if not alone:
        return does_not_apply("Nothing is claimed to be done alone at home.", ("activities",))
    if again := [(at, a) for at, a in alone if _AGAIN.search(a.left or "")]:
        return not_met(
            f"By its level {_names(again)} is done without a hand once all is set up, and by its own words someone "
            f"helps again: {(again[0][1].left or '').rstrip('. ')}.",
            *(("activities", at, key) for at, _ in again for key in ("with_device", "left")),
            mend=_MEND,
            bare=f"By its level {_names(again)} is done without a hand once all is set up, and by its own words "
            "someone helps again.",
        )
    return _in_the_trial(case, alone)


def _in_the_trial(case: Case, alone: Sequence[tuple[int, Activity]]) -> Answer:
    """What the rows of the requested control tell of activities that are claimed to be done without a hand."""
    tried = [row for row in case.tried if _is_of_device(case, row)]
    if not tried:
        return cannot_tell(
            f"{_names(alone)} is claimed to be done without a hand once all is set up, and no attempt with the "
            "requested control is recorded.",
            *(("activities", at, "with_device") for at, _ in alone),
            ("trial", "rows"),
            mend="Add the rows of the trial with the requested control.",
        )
    if rows := [row for row in tried if _SET_AGAIN.search(row.note or "")]:
        return not_met(
            f"{_names(alone)} is claimed to be done without a hand once all is set up, and in the trial the control "
            f"was set again, as {counted(len(rows), 'row says', 'rows say')}.",
            *(("activities", at, "with_device") for at, _ in alone),
            ("trial", "rows"),
            rows=lines(rows),
            mend=_MEND,
        )
    return met("Nothing that is done alone after setup needs a hand again.", ("activities",))


def _is_of_device(case: Case, row: Tried) -> bool:
    """Whether a row is of the requested control, or of the same device set otherwise."""
    asked = case.requested_method
    if asked is None:
        return False
    alike = {method.id for method in case.trial.methods if asked.device and method.device == asked.device}
    return row.method in alike | {asked.id}


def _names(claimed: Sequence[tuple[int, Activity]]) -> str:
    return listed(f"“{activity.name}”" for _, activity in claimed)
