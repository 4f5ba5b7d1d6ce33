"""Whoever is to drive this chair drove it safely in the trial.

Asks: Whether the client did most attempts with this control and stops with it, with the collisions beside them, or else
    whether a caregiver drives safely instead.
Why a payer asks: A chair that nobody can drive safely is denied.
What settles it: Rows of the requested control, with a task that shows a stop; or the keys of [attendant]. The floor of
    eight of ten is that of drives_reliably and stops_on_request: nobody drove safely who missed it (common practice, no
    source).
Source: US national coverage determination 280.3, question 4; L33789 criteria J and K.
"""

from __future__ import annotations

from docgen.criteria.attendant import caregiver_can_drive, caregiver_drives
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend
from docgen.criteria.sentences import counted, k_of_n, listed

HEADING = "safety"
CLAIM = "The person who is to drive drove safely"
SETTINGS = {"least_share": 0.8}


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
            mend=_mend(asked),
        )
    reason = f"{k_of_n(done)} attempts successful, {k_of_n(stops)} stops"
    facts = [done.id, stops.id]
    if (collisions := grounds.evidence.of("contacts", asked)) is not None and collisions.k:
        reason += f", {counted(int(collisions.k), 'collision', 'collisions')}"
        facts.append(collisions.id)
    shares = {"of the attempts": recorded(done.value), "of the stops": recorded(stops.value)}
    if too_few := [words for words, share in shares.items() if share < least_share]:
        return not_met(
            f"{reason}; fewer than {least_share:.0%} {listed(too_few)}.",
            ("configuration", "method"),
            facts=tuple(facts),
            mend="Train, change the setup, and repeat the trial.",
        )
    return met(f"{reason}.", ("configuration", "method"), facts=tuple(facts))


def _mend(asked: str | None) -> Mend:
    """The method, where none is named, and rows of it that show a stop."""
    if asked is None:
        words = 'Fill in configuration.method, and add its rows with a task that shows = "stop".'
        return Mend(words, fill=("configuration.method",))
    return Mend(f'Add rows of the method {asked} with a task that shows = "stop".')
