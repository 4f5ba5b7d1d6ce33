"""The trial shows the client driving and stopping with the requested control.

Asks: Whether rows with this control hold an attempt that was done and a stop on command that was done.
Why a payer asks: Safe use is judged for this control, from a record; no row, or not one stop done, is a ground for
    denial by itself.
What settles it: Rows of the requested control, with a task that shows a stop. How good the driving has to be is asked
    by driver_is_safe, drives_reliably and stops_on_request.
Source: US national coverage determination 280.3, question 4; L33789 criterion J.
"""

from __future__ import annotations

from docgen.criteria.attendant import ATTENDANT, caregiver_drives
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import k_of_n, listed

HEADING = "safety"
CLAIM = "The trial shows the client driving and stopping"
SHOWN_IN = ("letter: Equipment Trial and Results",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case, asked = grounds.case, grounds.case.configuration.method
    if caregiver_drives(case):
        return does_not_apply("A caregiver drives, and no control for the client is requested.", ATTENDANT)
    if asked is None:
        return cannot_tell(
            "Which control of the trial is requested is not recorded.",
            ("configuration", "method"),
            mend=fill_in({"configuration.method": "<id of a trial method>"}),
        )
    done, stops = grounds.evidence.of("success", asked), grounds.evidence.of("stop_request", asked)
    missing = [words for words, fact in (("an attempt", done), ("a stop on command", stops)) if fact is None]
    if missing:
        return cannot_tell(
            f"No row of the trial shows {listed(missing, 'or')} with the requested control.",
            ("trial", "rows"),
            ("trial", "tasks"),
            mend='Add rows with the requested control, some of a task with shows = "stop".',
        )
    done, stops = recorded(done), recorded(stops)
    at, facts = (("configuration", "method"), ("trial", "rows")), (done.id, stops.id)
    reason = f"{k_of_n(done)} attempts successful, {k_of_n(stops)} stops on command"
    if not done.k or not stops.k:
        return not_met(f"{reason}.", *at, facts=facts, mend="Train, change the setup, and repeat the trial.")
    return met(f"{reason}.", *at, facts=facts)
