"""Someone who sets up the chair every day was taught and showed it back.

Asks: Who was taught what, and when it was shown back.
Why a payer asks: Safe use depends on the people around the client.
What settles it: [[taught]] with who, what and on.
Source: supplier standard 42 CFR 424.57(c)(12); teach-back: systematic review of 20 studies (abstract read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.sentences import counted, listed

HEADING = "independence"
CLAIM = "Those who set up the chair were taught"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.taught:
        return cannot_tell("Nobody is recorded as taught.", ("taught",), mend="Add [[taught]] with who, what and on.")
    undated = [i for i, taught in enumerate(case.taught) if taught.on is None]
    if undated:
        return cannot_tell("The day on which the teaching was shown back is not recorded.", *(("taught", i, "on") for i in undated), mend="Fill in on <date>.")
    people = [case.person(taught.who) for taught in case.taught]
    names = list(dict.fromkeys((p.relation or p.name or p.id) for p in people if p))
    return met(f"{counted(len(names), 'person was', 'people were')} taught and showed it back: {listed(names)}.", ("taught",))
