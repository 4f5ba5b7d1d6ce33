"""Whoever is to drive this chair drove it safely in the trial.

Asks: Whether the client did more attempts than not with this control, stops with it, or else whether a caregiver drives
    safely instead.
Why a payer asks: A chair that nobody can drive safely is denied.
What settles it: Rows of the requested control, with a task that shows a stop; or the keys of [attendant]. More done
    than not is only the floor under which nobody would call it safe (no source); drives_reliably asks for more.
Source: US national coverage determination 280.3, question 4; L33789 criteria J and K.
"""

from __future__ import annotations

from docgen.criteria.attendant import caregiver_can_drive, caregiver_drives
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend
from docgen.criteria.sentences import k_of_n

HEADING = "safety"
CLAIM = "The person who is to drive drove safely"
SETTINGS = {"least_share": 0.5}


def answer(grounds: Grounds, least_share: float) -> Answer:
    case, asked = grounds.case, grounds.case.configuration.method
    if caregiver_drives(case):
        return caregiver_can_drive(case)
    done, stops = grounds.evidence.of("success", asked), grounds.evidence.of("stop_request", asked)
    if asked is None or done is None or stops is None:
        return cannot_tell(
            "Not recorded: "
            + (
                "attempts with the requested control."
                if asked is None or done is None
                else "a stop with the requested control."
            ),
            ("configuration", "method"),
            ("trial", "tasks"),
            mend=Mend(
                'Fill in configuration.method, and add its rows with a task that shows = "stop".',
                fill=("configuration.method",),
            ),
        )
    reason = f"{k_of_n(done)} attempts successful, {k_of_n(stops)} stops"
    if recorded(done.value) < least_share or recorded(stops.value) < least_share:
        return not_met(
            f"{reason}.",
            ("configuration", "method"),
            facts=(done.id, stops.id),
            mend="Train, change the setup, and repeat the trial.",
        )
    return met(f"{reason}.", ("configuration", "method"), facts=(done.id, stops.id))
