"""Whoever was shown pushing has it in their row of the log, and nobody else has.

Asks: Whether the words of what each person was shown, which are their row of the log, name pushing where their skills
    have the brake release levers and pushing, and only there.
Why a payer asks: A payer does not. The log says to do only what the row names: with the levers set to roll a chair has
    no brakes, and a row that says "levers" alone lets nobody know whether its person may push.
What settles it: [[taught]] with who, what and skills that say the same.
Source: release of the brakes and pushing are listed skills of caregivers: Wheelchair Skills Program, 2012; that both
    say the same is common practice, no source.
"""

from __future__ import annotations

import re

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "Who may push the chair by hand is said in their row of the log"
QUIET = True
SETTINGS: dict[str, object] = {}
# the row is a sentence: it names pushing by the word that card and log ask for
_PUSHING = re.compile(r"\bpush(ing|es)?\b", re.IGNORECASE)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.configuration.stop.freewheel or not case.taught:
        return does_not_apply("No levers, or nobody who was shown them, are recorded.", ("taught",))
    if not any(entry.skills for entry in case.taught):
        return cannot_tell(
            "Which skills were shown is not recorded.",
            ("taught",),
            mend="Write skills in [[taught]], with levers for whoever was shown them and pushing.",
        )
    skilled = {entry.who for entry in case.taught if "levers" in entry.skills}
    named = {entry.who for entry in case.taught if _PUSHING.search(entry.what)}
    if unlike := [case.called_by_relation(who) for who in sorted(skilled ^ named)]:
        return not_met(
            f"The skills shown and the row of the log differ on pushing by hand: {listed(unlike)}.",
            ("taught",),
            mend='In [[taught]], write "levers and pushing" in what, and levers in skills, or neither.',
        )
    return met("Each row of the log names pushing where it was shown, and only there.", ("taught",))
