"""Someone who sets up the chair every day was taught and showed it back.

Asks: Who was taught what, and when it was shown back; where the control has standby, whether whoever was taught the
    setup was taught standby too, since each morning's setup ends with it.
Why a payer asks: Safe use depends on the people around the client.
What settles it: [[taught]] with who, what, skills and on; who is still to be taught stands in [[to_teach]] with the
    day planned for it.
Source: supplier standard 42 CFR 424.57(c)(12); teach-back: systematic review of 20 studies (abstract read).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from docgen.case.model import Case
from docgen.case.who import Person
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import counted, day, listed

HEADING = "independence"
CLAIM = "Caregivers who set up the chair are trained"
SHOWN_IN = (
    "letter: Training and Follow-Up Plan",
    "plan: Supervision",
)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nobody := nobody_to_teach(case):
        return nobody
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
            f"Not recorded as taught: {listed(f'{p.called_by_relation}{_planned(case, p.id)}' for _, p in untaught)}.",
            *(("people", i) for i, _ in untaught),
            ("taught",),
            mend=add_entry("taught", "who", "what", "on"),
            bare=f"Not recorded as taught: {counted(len(untaught), 'caregiver', 'caregivers')}.",
        )
    if any(command.does == "rest" for command in case.configuration.commands) and (unready := _standby_untaught(case)):
        return unready
    names = list(dict.fromkeys(_called(case.person(taught.who)) or taught.who for taught in case.taught))
    counted_people = f"{counted(len(names), 'person was', 'people were')} taught and gave a return demonstration"
    return met(f"{counted_people}: {listed(names)}.", ("taught",), bare=f"{counted_people}.")


def nobody_to_teach(case: Case) -> Answer | None:
    """Does not apply, where nobody moves the client, nobody is near in any place, and nobody was taught; else None."""
    near = not case.supervision or any(place.is_near for place in case.supervision)
    if case.taught or near or case.sitting.moved_by != 0:
        return None
    return does_not_apply(
        "The client moves to the chair and from it without help, and drives alone in every place recorded.",
        ("sitting", "moved_by"),
        ("supervision",),
    )


def _standby_untaught(case: Case) -> Answer | None:
    """Where whoever was taught the setup was not taught standby, or nobody has said; None where all were."""
    skills = _skills(case)
    if untold := [who for who, learned in skills.items() if not learned]:
        return cannot_tell(
            f"The setup of each morning ends with standby; whether both were taught is not recorded of: "
            f"{_named(case, untold)}.",
            *(("taught", i, "skills") for i, taught in enumerate(case.taught) if taught.who in untold),
            ("configuration", "commands"),
            mend=fill_in({"skills": '["setup", "standby", "stop"]'}, " of each of [[taught]]"),
            bare=f"Which skills were taught to {counted(len(untold), 'person', 'people')} is not recorded.",
        )
    if unready := [who for who, learned in skills.items() if "setup" in learned and "standby" not in learned]:
        return cannot_tell(
            f"The setup of each morning ends with standby, and not recorded as taught it: {_named(case, unready)}.",
            *(("taught", i, "skills") for i, taught in enumerate(case.taught) if taught.who in unready),
            ("configuration", "commands"),
            mend="Teach them standby and the way back to drive, and add it to skills of [[taught]].",
            bare=f"Setup without standby was taught to {counted(len(unready), 'person', 'people')}.",
        )
    return None


def _planned(case: Case, who: str) -> str:
    """On which day somebody is to be taught, in brackets; "" where none is recorded."""
    days = [entry.planned_on for entry in case.to_teach if entry.who == who and entry.planned_on]
    return f" (planned for {day(min(days))})" if days else ""


def _skills(case: Case) -> Mapping[str, set[str]]:
    """Whoever was taught, by id, and which skills."""
    learned: dict[str, set[str]] = {}
    for taught in case.taught:
        learned.setdefault(taught.who, set()).update(taught.skills)
    return learned


def _named(case: Case, people: Iterable[str]) -> str:
    return listed(_called(case.person(who)) or who for who in people)


def _called(person: Person | None) -> str | None:
    return (person.relation or person.name) if person else None
