"""The device is needed where daily life happens.

Asks: Which activity, at home or anywhere else, is prevented, unsafe or too slow without it.
Why a payer asks: This payer looks at every place where daily life happens, not at the home alone.
What settles it: [[activities]] with barrier and before, at home or away.
Source: 42 CFR 440.70(c) (passage read); 81 FR 5529.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import Mend, NewEntry
from docgen.criteria.questions.need_at_home import place_not_recorded
from docgen.criteria.sentences import counted, listed

HEADING = "independence"
CLAIM = "An activity of daily life needs it, at home or away"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    if open_place := place_not_recorded(grounds.case):
        return open_place
    shown = [
        (i, a)
        for i, a in enumerate(grounds.case.activities)
        if a.barrier and a.before and a.before not in ("set_up", "alone")
    ]
    if not shown:
        return cannot_tell(
            "No activity is recorded with its barrier and the help it takes now.",
            ("activities",),
            mend=Mend(
                "Add [[activities]] with id, name, at_home, needed_for, barrier and before.",
                fill=("barrier", "before"),
                add=(NewEntry("activities", ("at_home", "needed_for", "barrier", "before")),),
            ),
        )
    away = [a.name for _, a in shown if not a.at_home]
    return met(
        f"{counted(len(shown), 'activity needs', 'activities need')} it: {listed(a.name for _, a in shown)}"
        + (f"; away from home: {listed(away)}." if away else "; all at home."),
        *(("activities", i) for i, _ in shown),
    )
