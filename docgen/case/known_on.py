"""A case as it was known on a day: without the decision, the denial, the delivery and the lessons that came later."""

from __future__ import annotations

from datetime import date

from docgen.case.asked import Configuration
from docgen.case.awaited import Awaited
from docgen.case.model import Case
from docgen.case.need import Goal, Space
from docgen.case.paper import Authorization, Delivery, Denial
from docgen.case.training import FollowUp

_DELIVERED_TO = ("street", "city", "state", "postal_code", "place", "to_lessons")
_NO_ANSWER = {"payer_says": None, "payer_said_on": None}  # of the payer, to a line or to the request


def known_on(case: Case, day: date) -> Case:
    """The case without what happened after a day; the case itself where nothing did. What has no day is kept.

    Dropped are the request for prior authorization and its decision, dated answers of the payer to a line or to the
    request, a denial with its appeal, the delivery with its proof, parts as fitted, stops passed or measured on a
    slope since, questions asked and answers come since, lessons, follow-up visits held and goals reviewed. What was
    measured or tried before is never dropped: a day of it after the request is a mistake in the record, which the
    criteria tell.
    """
    later = _papers_before(case, day) | _use_before(case, day)
    tries = tuple(row for row in case.sessions if row.date <= day)
    then = case.model_copy(update=later) if later else case
    return then if len(tries) == len(case.sessions) else then.with_sessions(tries)


def _papers_before(case: Case, day: date) -> dict[str, object]:
    """Parts that change because a paper came later: authorization, answers of the payer, denial, delivery."""
    later: dict[str, object] = {}
    if (authorization := _authorization_before(case.authorization, day)) is not case.authorization:
        later["authorization"] = authorization
    if any(_after(on, day) for on in (case.denial.denied_on, case.denial.written_on, case.denial.sent_on)):
        later["denial"] = Denial()
    if _after(case.dates.delivered_on, day):
        later["dates"] = case.dates.model_copy(update={"delivered_on": None})
        address = {key: getattr(case.delivery, key) for key in _DELIVERED_TO}
        later["delivery"] = Delivery().model_copy(update=address)  # where it is to go was known before
    if _after(case.request.payer_said_on, day):
        later["request"] = case.request.model_copy(update=_NO_ANSWER)
    if _answered_after(case.configuration, day):
        later["configuration"] = _before_answers(case.configuration, day)
    return later


def _use_before(case: Case, day: date) -> dict[str, object]:
    """Parts that change because the chair was used later: parts and settings as fitted, slopes, visits, goals."""
    later: dict[str, object] = {}
    for name in ("fitted", "fitted_settings"):
        if any(_after(entry.on, day) for entry in getattr(case, name)):
            later[name] = tuple(entry for entry in getattr(case, name) if not _after(entry.on, day))
    if any(_after(visit.done_on, day) for visit in case.follow_up):
        later["follow_up"] = _visits_before(case.follow_up, day)
    if any(_after(entry.asked_on, day) or _after(entry.answered_on, day) for entry in case.awaited):
        later["awaited"] = _awaited_before(case.awaited, day)
    if any(_after(review.on, day) for goal in case.goals for review in goal.reached):
        later["goals"] = _goals_before(case.goals, day)
    if any(_after(on, day) for space in case.spaces for on in (space.slope_stop_on, space.waits_done_on)):
        later["spaces"] = _spaces_before(case.spaces, day)
    return later


def _awaited_before(awaited: tuple[Awaited, ...], day: date) -> tuple[Awaited, ...]:
    """Questions that were asked by then, those that were answered later without their answer."""
    not_answered = {"answer": None, "answered_on": None}
    return tuple(
        entry.model_copy(update=not_answered) if _after(entry.answered_on, day) else entry
        for entry in awaited
        if not _after(entry.asked_on, day)
    )


def _spaces_before(spaces: tuple[Space, ...], day: date) -> tuple[Space, ...]:
    """Places, those whose slope was stopped on later without that stop, and what was waited for later still open."""
    not_stopped, waits = {"slope_stop_m": None, "slope_stop_on": None}, {"waits_done_on": None}
    return tuple(
        space.model_copy(
            update=(not_stopped if _after(space.slope_stop_on, day) else {})
            | (waits if _after(space.waits_done_on, day) else {})
        )
        for space in spaces
    )


def _authorization_before(authorization: Authorization, day: date) -> Authorization:
    """The prior authorization as it stood: not requested, not decided, or as it is."""
    decision = dict.fromkeys(("decided_on", "decision", "tracking", "valid_from", "valid_until"))
    if _after(authorization.requested_on, day):
        return authorization.model_copy(update={"requested_on": None, **decision})
    return authorization.model_copy(update=decision) if _after(authorization.decided_on, day) else authorization


def _visits_before(visits: tuple[FollowUp, ...], day: date) -> tuple[FollowUp, ...]:
    """Follow-up visits, those of later days as planned and not held."""
    not_held = {"done_on": None, "found": None, "changed": ()}
    return tuple(visit.model_copy(update=not_held) if _after(visit.done_on, day) else visit for visit in visits)


def _goals_before(goals: tuple[Goal, ...], day: date) -> tuple[Goal, ...]:
    """Goals without reviews of later days."""
    return tuple(
        goal.model_copy(update={"reached": tuple(review for review in goal.reached if review.on <= day)})
        for goal in goals
    )


def _answered_after(configuration: Configuration, day: date) -> bool:
    chair, items = configuration.chair, configuration.items
    answered = (chair.payer_said_on, *(item.payer_said_on for item in items), configuration.stop.passed_on)
    return any(_after(on, day) for on in answered)


def _before_answers(configuration: Configuration, day: date) -> Configuration:
    """The configuration without what came after a day: the payer's answers to its lines, stops passed."""
    chair = configuration.chair
    if _after(chair.payer_said_on, day):
        chair = chair.model_copy(update=_NO_ANSWER)
    items = tuple(
        item.model_copy(update=_NO_ANSWER) if _after(item.payer_said_on, day) else item for item in configuration.items
    )
    stop = configuration.stop
    if _after(stop.passed_on, day):
        stop = stop.model_copy(update={"passed_on": None})
    return configuration.model_copy(update={"chair": chair, "items": items, "stop": stop})


def _after(on: date | None, day: date) -> bool:
    return on is not None and on > day
