"""Caregivers relied on are present and trained.

Asks: Whether each session lies in hours in which its trainer is there, and whoever trains in place of the coach is
    there at some session; whether a place that needs two people has two who are ever there together; and whether those
    who may be near were taught.
Why a payer asks: Safety that rests on people who are not there is none.
What settles it: there of each person, with starts_at and ends_at, and days where it is not every day; hours of
    [[training.week]]; needs and who of each place in [[supervision]]; [[taught]].
Source: US national coverage determination 280.3, question 3 (a caregiver counts only if reliably present, willing and
    able).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.supervision import Supervision
from docgen.case.training import Hours
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.present import Spans, covers, hours_told, in_words_alone, minute_of_day, present, together
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "Caregivers relied on are present and trained"
SHOWN_IN = ("letter: Safety and Home Environment",)
SETTINGS: dict[str, object] = {}

_HOURS = "<hours, each with days, starts_at and ends_at>"
_IN_REACH = ("hands_on_stop", "arms_length")
Wrong = tuple[str, tuple[KeyPath, ...], bool]  # what is wrong, where, and whether someone could be hurt


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.supervision:
        return cannot_tell(
            "Supervision is not recorded.",
            ("supervision",),
            mend=add_entry("supervision", "place", "level", "by", "who"),
        )
    if wrong := [*_lessons(case), *_never_together(case), *_untaught(case)]:
        return not_met(
            " ".join(says for says, _, _ in wrong),
            *dict.fromkeys(path for _, paths, _ in wrong for path in paths),
            mend="Find someone who is there and teach them, change the hours, or mend the words of who is there.",
            danger=any(hurts for _, _, hurts in wrong),
        )
    if unsaid := [(at, place) for at, place in enumerate(case.supervision) if _cannot_be_told(case, place)]:
        return cannot_tell(
            f"More than one person is needed {listed(place.place for _, place in unsaid)}; who they are, "
            "and when they are there together, is not recorded.",
            *(("supervision", at) for at, _ in unsaid),
            ("people",),
            mend=fill_in({"who": "<ids of people>", "there": _HOURS}, " of each of them"),
        )
    if in_words := [who for who in _trainers(case) if in_words_alone(case.person(who))]:
        return cannot_tell(
            f"When {listed(case.called_by_relation(who) for who in in_words)} can be at the sessions is told in words "
            "alone, and the hours are not recorded.",
            *(_of_person(case, who) for who in in_words),
            mend=fill_in({"there": _HOURS}, " of each of them"),
        )
    return met("Nobody is counted on at an hour or a place where the record has them elsewhere.", ("supervision",))


def _lessons(case: Case) -> Iterator[Wrong]:
    """Hours of training in which nobody who could train is there."""
    yield from _substitute_at_none(case)
    yield from _sessions_without_trainer(case)


def _substitute_at_none(case: Case) -> Iterator[Wrong]:
    """Whoever trains in place of the coach, where that person is there at none of the sessions."""
    second = case.training.substitute
    there = present(case.person(second))
    kept = [hours for hours in case.training.week if hours.free and hours.starts_at and hours.ends_at]
    if second and there is not None and kept and not any(_is_there(there, hours) for hours in kept):
        yield (
            f"{case.called_by_relation(second).capitalize()} can train in place of the coach, and is there at none of "
            f"the sessions: {hours_told(case.person(second))}.",
            (("training", "substitute"), _of_person(case, second)),
            False,
        )


def _sessions_without_trainer(case: Case) -> Iterator[Wrong]:
    """Sessions in whose hours their trainer is not there, as far as the hours of both are known."""
    for at, hours in enumerate(case.training.week):
        who = hours.who or case.training.coach
        there = present(case.person(who))
        if not hours.free or there is None or hours.starts_at is None or hours.ends_at is None:
            continue
        if not _is_there(there, hours):
            yield (
                f"A session is kept for {hours.day.capitalize()} {hours.starts_at:%H:%M} to {hours.ends_at:%H:%M}, "
                f"and its trainer is there: {hours_told(case.person(who))}.",
                (("training", "week", at), _of_person(case, who)),
                False,
            )


def _is_there(there: Mapping[str, Spans], hours: Hours) -> bool:
    """Whether somebody is there for all of these hours."""
    if hours.starts_at is None or hours.ends_at is None:
        return False
    return covers(there, hours.day, minute_of_day(hours.starts_at), minute_of_day(hours.ends_at))


def _never_together(case: Case) -> Iterator[Wrong]:
    for at, place in enumerate(case.supervision):
        if place.who and _together(case, place) is False:  # which it never is of one person
            yield (
                f"{place.needs} people are needed {place.place}, and those who are named are never there together.",
                (("supervision", at), *(_of_person(case, who) for who in place.who)),
                True,
            )


def _untaught(case: Case) -> Iterator[Wrong]:
    taught = {entry.who for entry in case.taught} | {person.id for person in case.with_role("evaluator")}
    for at, place in enumerate(case.supervision):
        if bare := [who for who in place.who if who not in taught]:
            yield (
                f"{listed(case.called_by_relation(who) for who in bare)} may be near {place.place}, "
                "and is not recorded as taught.",
                (("supervision", at, "who"), ("taught",)),
                place.level in _IN_REACH,
            )


def _together(case: Case, place: Supervision) -> bool | None:
    return together([case.person(who) for who in place.who], _n_needed(place))


def _cannot_be_told(case: Case, place: Supervision) -> bool:
    return _n_needed(place) > 1 and (not place.who or _together(case, place) is None)


def _n_needed(place: Supervision) -> int:
    return place.needs or 1


def _of_person(case: Case, person_id: str | None) -> KeyPath:
    at = next((i for i, person in enumerate(case.people) if person.id == person_id), None)
    return ("people",) if at is None else ("people", at, "there")


def _trainers(case: Case) -> list[str]:
    """Who is counted on at sessions whose hours are recorded, each once."""
    kept = [hours for hours in case.training.week if hours.free and hours.starts_at]
    trainers = [hours.who or case.training.coach for hours in kept] + [case.training.substitute] * bool(kept)
    return [*dict.fromkeys(who for who in trainers if who)]
