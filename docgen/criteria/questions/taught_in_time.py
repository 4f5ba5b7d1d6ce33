"""Helpers were taught before they were relied on, and what they were shown still holds.

Asks: Whether whoever trained a session was taught by that day, on the delivered chair once there is one; whether
    those who may be near where a session went were; whether the setup was shown after the parts were last measured or
    set; and whether the emergency page was shown after its last step was given.
Why a payer asks: Safe use depends on the people around the client. A gap shown before it was measured is another gap.
What settles it: on and skills of each of [[taught]]; coach of the rows of sessions.csv, by initials; on of the mounting
    record, of [[fitted]] and of the steps of the emergency page.
Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.who import by_initials
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.questions.caregivers_taught import nobody_to_teach
from docgen.criteria.sentences import capital, day, listed

HEADING = "independence"
CLAIM = "Helpers were taught before they were relied on"
QUIET = True
SETTINGS: dict[str, object] = {}
_TAUGHT: KeyPath = ("taught",)
_SETUP = "The parts were last measured or set on {after}, and {who} was shown the setup on {on}, before that."
_EMERGENCY = "A step of the emergency page was given on {after}, and {who} was shown the page on {on}, before that."
Changed = tuple[date | None, KeyPath]
Wrong = tuple[str, tuple[KeyPath, ...], bool]  # what is wrong, where, and whether someone could be hurt


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nobody := nobody_to_teach(case):
        return nobody
    if not case.taught:
        return cannot_tell("Nobody is recorded as taught.", _TAUGHT, mend=add_entry("taught", "who", "what", "on"))
    if undated := [i for i, taught in enumerate(case.taught) if taught.on is None]:
        return cannot_tell(
            "The day on which someone was taught is not recorded.",
            *(("taught", i, "on") for i in undated),
            mend=fill_in({"on": "<date shown back>"}, " in [[taught]]"),
        )
    if wrong := [*_coaches(case), *_near(case), *_outdated(case)]:
        return not_met(
            " ".join(says for says, _, _ in wrong),
            *dict.fromkeys(path for _, paths, _ in wrong for path in paths),
            mend="Show them again and add an entry to [[taught]], or correct a day that was written wrong.",
            danger=any(hurts for _, _, hurts in wrong),
        )
    if unknown := [*_skill_untold(case)]:
        return cannot_tell(
            f"Shown before the parts were last measured or set, and whether it was the setup is not recorded: "
            f"{listed(dict.fromkeys(case.called_by_relation(case.taught[i].who) for i in unknown))}.",
            *(("taught", i, "skills") for i in unknown),
            mend=fill_in({"skills": '["setup", "standby", "stop"]'}, " of each of [[taught]]"),
        )
    return met("Whoever was relied on had been taught, and what was shown still holds.", _TAUGHT)


def _coaches(case: Case) -> Iterator[Wrong]:
    """Coaches of sessions before they were taught."""
    first: dict[str, date] = {}
    for row in case.sessions:
        person = by_initials(case.people, row.coach) if row.coach else None
        if person and person.role != "evaluator":
            first[person.id] = min(first.get(person.id, row.date), row.date)
    yield from ((says, (_TAUGHT, ("training", "coach")), False) for says in _late(case, first, "trained in a session"))


def _near(case: Case) -> Iterator[Wrong]:
    """Those who may be near a place where sessions went, before they were taught."""
    for at, place in enumerate(case.supervision):
        days = [row.date for row in case.sessions if row.task in place.covers]
        if days and not place.is_later:
            evaluators = {person.id for person in case.with_role("evaluator")}
            relied = {who: min(days) for who in place.who if who not in evaluators}
            where = (_TAUGHT, ("supervision", at, "who"))
            yield from ((says, where, True) for says in _late(case, relied, f"was needed {place.place}"))


def _late(case: Case, first: dict[str, date], does: str) -> Iterator[str]:
    """Of people with the first day on which each was relied on: whoever was not taught by then."""
    delivered = case.dates.delivered_on
    for who, on in first.items():
        days = [taught.on for taught in case.taught if taught.who == who and taught.on]
        called = capital(case.called_by_relation(who))
        if not any(shown <= on for shown in days):
            shown = f"was taught on {day(min(days))}" if days else "is not recorded as taught"
            yield f"{called} {does} on {day(on)} and {shown}."
        elif delivered and not any(delivered <= shown <= on for shown in days):
            yield (
                f"{called} {does} on {day(on)} and by then had been taught on another chair "
                f"alone: this one was delivered on {day(delivered)}."
            )


def _outdated(case: Case) -> Iterator[Wrong]:
    """What was shown before it was as it is now: the setup, the emergency page."""
    steps = [(step.on, ("emergency", "steps", i, "on")) for i, step in enumerate(case.emergency.steps)]
    for skill, changed, words in (("setup", _last(_parts(case)), _SETUP), ("emergency", _last(steps), _EMERGENCY)):
        if changed is None:
            continue
        after, path = changed
        for who in dict.fromkeys(taught.who for taught in case.taught):
            shown = [(t.on, i) for i, t in enumerate(case.taught) if t.who == who and skill in t.skills and t.on]
            if shown and max(shown)[0] < after:
                on, i = max(shown)
                says = words.format(after=day(after), who=case.called_by_relation(who), on=day(on))
                yield says, (("taught", i, "on"), path), True


def _skill_untold(case: Case) -> Iterator[int]:
    """Entries without skills, of people whose skills are not told either since the parts were last set: who is told
    to know the stop alone by then is not asked about the setup of before."""
    changed = _last(_parts(case))
    if changed is None:
        return
    knows = {t.who for t in case.taught if t.skills and t.on and t.on >= changed[0]}
    for i, taught in enumerate(case.taught):
        if not taught.skills and taught.who not in knows and taught.on and taught.on < changed[0]:
            yield i


def _parts(case: Case) -> list[Changed]:
    """Days on which a part of the control was measured or set, each with its place."""
    return [
        *((mount.on, ("configuration", "mounting", i, "on")) for i, mount in enumerate(case.configuration.mounting)),
        *((part.on, ("fitted", i, "on")) for i, part in enumerate(case.fitted)),
    ]


def _last(changes: Iterable[Changed]) -> tuple[date, KeyPath] | None:
    return max(((on, path) for on, path in changes if on is not None), key=lambda change: change[0], default=None)
