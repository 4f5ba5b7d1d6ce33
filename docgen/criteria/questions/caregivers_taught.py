"""Someone who sets up the chair every day was taught and showed it back.

Asks: Who was taught what, and when it was shown back; where the control has standby, whether whoever was taught the
    setup was taught standby too, since each morning's setup ends with it.
Why a payer asks: Safe use depends on the people around the client.
What settles it: [[taught]] with who, what and on.
Source: supplier standard 42 CFR 424.57(c)(12); teach-back: systematic review of 20 studies (abstract read).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.model import Case
from docgen.case.who import Person
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import counted, listed

HEADING = "independence"
CLAIM = "Caregivers who set up the chair are trained"
SHOWN_IN = (
    "letter: Training and Follow-Up Plan",
    "plan: Supervision",
)
SETTINGS: dict[str, object] = {}
_SETUP = re.compile(r"\bset[ -]?up\b|\bpage one\b")
_STANDBY = re.compile(r"\brest\b|\bstandby\b|\bwake\b")


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.taught:
        return cannot_tell("Nobody is recorded as taught.", ("taught",), mend=add_entry("taught", "who", "what", "on"))
    undated = [i for i, taught in enumerate(case.taught) if taught.on is None]
    if undated:
        return cannot_tell(
            "The day on which the teaching was shown back is not recorded.",
            *(("taught", i, "on") for i in undated),
            mend=fill_in({"on": "<date shown back>"}, " in [[taught]]"),
        )
    known = {taught.who for taught in case.taught}
    if untaught := [(i, p) for i, p in enumerate(case.people) if p.role == "caregiver" and p.id not in known]:
        return cannot_tell(
            f"Not recorded as taught: {listed(p.called_by_relation for _, p in untaught)}.",
            *(("people", i) for i, _ in untaught),
            ("taught",),
            mend=add_entry("taught", "who", "what", "on"),
            bare=f"Not recorded as taught: {counted(len(untaught), 'caregiver', 'caregivers')}.",
        )
    if unready := [*_without_standby(case)]:
        return cannot_tell(
            f"The setup of each morning ends with standby, and not recorded as taught it: "
            f"{listed(_called(case.person(who)) or who for who in unready)}.",
            ("taught",),
            ("configuration", "commands"),
            mend="Teach them standby and the way back to drive, and write it into what of [[taught]].",
            bare=f"Setup without standby was taught to {counted(len(unready), 'person', 'people')}.",
        )
    names = list(dict.fromkeys(_called(case.person(taught.who)) or taught.who for taught in case.taught))
    counted_people = f"{counted(len(names), 'person was', 'people were')} taught and gave a return demonstration"
    return met(f"{counted_people}: {listed(names)}.", ("taught",), bare=f"{counted_people}.")


def _without_standby(case: Case) -> Iterator[str]:
    """Whoever was taught the setup of a control that has standby, and nothing of standby, in the words of the case."""
    if not any(command.does == "rest" for command in case.configuration.commands):
        return
    what: dict[str, str] = {}
    for taught in case.taught:
        what[taught.who] = f"{what.get(taught.who, '')} {taught.what or ''}".lower()
    yield from (who for who, says in what.items() if _SETUP.search(says) and not _STANDBY.search(says))


def _called(person: Person | None) -> str | None:
    return (person.relation or person.name) if person else None
