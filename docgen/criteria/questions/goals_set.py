"""Goals of the client are set, each with five levels.

Asks: Whether the client's own goals are recorded with levels that show later whether they were reached.
Why a payer asks: A benefit that can be checked is worth more than a promise.
What settles it: [[goals]] with says, weight, level and five levels.
Source: goal attainment scaling, Kiresuk and Sherman 1968, Community Ment Health J 4:443-453; common practice.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import Mend, NewEntry, fill_in
from docgen.criteria.sentences import counted

HEADING = "independence"
CLAIM = "The client's goals are set"
SHOWN_IN = (
    "letter: Training and Follow-Up Plan",
    "plan: Goals",
)
SETTINGS = {"n_levels": 5}


def answer(grounds: Grounds, n_levels: int) -> Answer:
    goals = grounds.case.goals
    if not goals:
        return cannot_tell(
            "No goal is recorded.",
            ("goals",),
            mend=Mend(
                "Add [[goals]] with says, level and five levels.",
                add=(NewEntry("goals", ("says", "level", "levels")),),
            ),
        )
    short = [i for i, goal in enumerate(goals) if len(goal.levels) != n_levels]
    if short:
        return cannot_tell(
            f"{counted(len(short), 'goal lacks', 'goals lack')} the {n_levels} levels.",
            *(("goals", i) for i in short),
            mend=fill_in({"levels": "[<much less>, <less>, <as expected>, <more>, <much more>]"}, " in [[goals]]"),
        )
    return met(f"{counted(len(goals), 'goal is', 'goals are')} set with {n_levels} levels.", ("goals",))
